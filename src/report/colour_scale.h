// The maps' colours: from dark blue (flat) to pale yellow (steep), lighter all the way.
//
// Lightness rises all the way, so that a black and white print keeps the order; equal steps of the value
// are equal steps of CIEDE2000; the way runs along blue–yellow, which red-green colour-blind people see.
// The table is made by tools/colour_scale.py, our own work.
//
// Dioptre scale of the curvature maps: absolute, the same for every map, 1.0 D a step, 33 to 53 D about 43 D
// (the front of 7.8 mm radius reads 43.27 D). ANSI Z80.23 and ISO 19980 know steps of 0.5, 1.0 and 1.5 D;
// from memory, nobody has looked it up. What lies beyond the scale takes its end colours and says so.
#pragma once

#include <string>

namespace graftwright {

// position 0 (low) … 1 (high), clamped; "#rrggbb".
[[nodiscard]] std::string scale_colour(double position);

inline constexpr double kScaleLow_D = 33.0, kScaleHigh_D = 53.0, kScaleStep_D = 1.0;
// Bands: below the scale, one for each step, and from the top of the scale on.
inline constexpr int kScaleBands = 22;

// Band of a power: 0 below 33 D, 1 from 33 to 34 D, … 21 from 53 D on; and its colour.
[[nodiscard]] int dioptre_band(double power_D);
[[nodiscard]] std::string band_colour(int band);

}  // namespace graftwright
