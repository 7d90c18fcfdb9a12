// Dioptres as colours, and a map of them as a picture.
//
// Our own scale, computed, not copied: in CIELAB lightness rises in a straight line from 16 to 93 while
// b* goes from blue through grey to yellow and a* stays near zero. Equal steps look equal, a grey print
// keeps the order, and the blue–yellow axis is the one that red–green blindness leaves.
// CIELAB and sRGB formulas: IEC 61966-2-1, D65 (from memory).
#pragma once

#include <vector>

#include <SFML/Graphics/Image.hpp>

#include "game/live_wound.h"
#include "view/theme.h"

namespace graftwright {

// 0 … 1, clamped.
[[nodiscard]] Tone power_tone(double share);
// L* of a tone (0 … 100).
[[nodiscard]] double lightness(Tone tone);

struct PowerRange {
    double low_D = 0.0, high_D = 1.0;
    double step_D = 1.0;  // of the contour lines

    [[nodiscard]] double share(double power_D) const { return (power_D - low_D) / (high_D - low_D); }
};
// One range for several maps, whole steps, so that they may be compared; outermost 2 % left out at
// either end (the cut's edge). Empty maps are passed over.
[[nodiscard]] PowerRange common_range(const std::vector<const SurfaceMap*>& maps);

// Distance from the middle (mm) up to which the map has values.
[[nodiscard]] double map_radius_mm(const SurfaceMap& map);

// pixels × pixels, row 0 at the top (y = +reach); clear outside the map's circle.
[[nodiscard]] sf::Image power_image(const SurfaceMap& map, const PowerRange& range, unsigned pixels);

}  // namespace graftwright
