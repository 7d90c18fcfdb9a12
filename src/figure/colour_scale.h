// The maps' colours: from dark blue (flat) to pale yellow (steep), lighter all the way.
//
// Lightness rises all the way, so that a black and white print keeps the order; equal steps of the value
// are equal steps of CIEDE2000; the way runs along blue–yellow, which red-green colour-blind people see.
// The table is made by tools/colour_scale.py, our own work.
//
// Two scales, on purpose: the report's is absolute, the same for every map, so that pages may be compared; the game's
// is the closure's own range, so that small unevenness shows.
#pragma once

#include <cstdint>
#include <vector>

#include "figure/curvature_map.h"

namespace graftwright {

struct Rgb {
    std::uint8_t r = 0, g = 0, b = 0;
};
// position 0 (low) … 1 (high), clamped.
[[nodiscard]] Rgb scale_colour(double position);

struct PowerScale {
    double low_D = 0.0, high_D = 1.0;
    double step_D = 1.0;  // of the lines of equal power

    [[nodiscard]] double share(double power_D) const { return (power_D - low_D) / (high_D - low_D); }
};

// About 43 D (the front of 7.8 mm radius reads 43.27 D). ANSI Z80.23 and ISO 19980 know steps of 0.5, 1.0 and 1.5 D;
// from memory, nobody has looked it up. What lies beyond the scale takes its end colours and says so.
inline constexpr PowerScale kAbsoluteScale{33.0, 53.0, 1.0};
// Its bands: below the scale, one for each step, and from the top of the scale on.
inline constexpr int kScaleBands = 22;
// Band of a power: 0 below 33 D, 1 from 33 to 34 D, … 21 from 53 D on; and its colour.
[[nodiscard]] int dioptre_band(double power_D);
[[nodiscard]] Rgb band_colour(int band);

// One range for several maps, in whole steps, so that they may be compared; the outermost 2 % are left out at either
// end.
[[nodiscard]] PowerScale own_scale(const std::vector<const CurvatureMap*>& maps);

}  // namespace graftwright
