// Dioptres as colours, and a map of them as a picture.
//
// The colours are the report's (report/colour_scale.h): from dark blue (flat) to pale yellow (steep), lighter
// all the way. Their range here is the closure's own, so that small unevenness shows; the report's is fixed.
#pragma once

#include <vector>

#include <SFML/Graphics/Image.hpp>

#include "game/live_wound.h"
#include "view/kit/theme.h"

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
