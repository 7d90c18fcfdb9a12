// Power along the meridian at a point of the cornea, and maps of it.
//
// With slope h_ρ and second derivative h_ρρ along the meridian through the point, at distance ρ
// from the instrument axis (ISO 19980 / Klein, from memory):
//   axial       Ka = 1 / (distance along the normal from the surface to the axis)
//                  = -h_ρ / (ρ √(1 + h_ρ²))
//   tangential  Km = -h_ρρ / (1 + h_ρ²)^(3/2) = d(ρ Ka)/dρ        (instantaneous, meridional)
// Power in keratometric dioptres = 337.5 x curvature in 1/mm. "The normal" is the normal of the
// meridian section: on an astigmatic cornea the surface normal itself misses the axis.
// Both tend to -h_ρρ along the meridian at the vertex, where a single value is the mean over all
// meridians. A map says nothing (no value) where the surface does not reach; it never holds a NaN.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "optics/surface.h"

namespace graftwright {

// At (ρ cos φ, ρ sin φ); ρ >= 0 in mm, within radius_covered(); the angle φ in rad.
[[nodiscard]] double axial_power_D(const AnteriorSurface& surface, double rho, double angle);
[[nodiscard]] double tangential_power_D(const AnteriorSurface& surface, double rho, double angle);

struct MapPoint {
    double x_mm = 0, y_mm = 0;
    std::optional<double> axial_D, tangential_D;
};

// A rectangular table of points, row after row.
struct PowerMap {
    std::size_t rows = 0, columns = 0;
    std::vector<MapPoint> points;

    [[nodiscard]] const MapPoint& at(std::size_t row, std::size_t column) const {
        return points.at(row * columns + column);
    }
};

// points_across >= 2 by points_across places over the square of half-width radius_mm, row 0 at
// the bottom (y = -radius_mm), column 0 at the left (x = -radius_mm); no values outside the circle.
[[nodiscard]] PowerMap square_power_map(const AnteriorSurface& surface, double radius_mm, std::size_t points_across);

}  // namespace graftwright
