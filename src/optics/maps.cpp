#include "optics/maps.h"

#include <cmath>

#include "base/check.h"
#include "base/units.h"

namespace graftwright {
namespace {

// Nearer to the axis than a nanometre -h_ρ/ρ is a quotient of rounding errors: take its limit.
constexpr double kAtVertex = 1e-6;
// Lets the last ring of a map to the very edge count as covered despite rounding of ρ.
constexpr double kEdgeSlack = 1e-9;

double axial_curvature(const SurfaceSample& sample, double rho, double angle) {
    if (rho < kAtVertex) return -sample.curv_along(angle);
    const double slope = sample.slope_along(angle);
    return -slope / (rho * std::sqrt(1 + slope * slope));
}

double tangential_curvature(const SurfaceSample& sample, double angle) {
    const double slope = sample.slope_along(angle);
    const double squared = 1 + slope * slope;
    return -sample.curv_along(angle) / (squared * std::sqrt(squared));
}

MapPoint map_point(const AnteriorSurface& surface, double rho, double angle, double reach) {
    MapPoint point{rho * std::cos(angle), rho * std::sin(angle), {}, {}};
    if (rho > reach + kEdgeSlack) return point;
    const SurfaceSample sample = surface.sample(point.x_mm, point.y_mm);
    point.axial_D = dioptres_from_curvature(axial_curvature(sample, rho, angle));
    point.tangential_D = dioptres_from_curvature(tangential_curvature(sample, angle));
    return point;
}

MapPoint vertex_point(const AnteriorSurface& surface) {
    const SurfaceSample sample = surface.sample(0, 0);
    const double mean_D = dioptres_from_curvature(-(sample.curv_xx + sample.curv_yy) / 2);
    return {0, 0, mean_D, mean_D};
}

}  // namespace

double axial_power_D(const AnteriorSurface& surface, double rho, double angle) {
    const SurfaceSample sample = surface.sample(rho * std::cos(angle), rho * std::sin(angle));
    return dioptres_from_curvature(axial_curvature(sample, rho, angle));
}

double tangential_power_D(const AnteriorSurface& surface, double rho, double angle) {
    const SurfaceSample sample = surface.sample(rho * std::cos(angle), rho * std::sin(angle));
    return dioptres_from_curvature(tangential_curvature(sample, angle));
}

PowerMap square_power_map(const AnteriorSurface& surface, double radius_mm, std::size_t points_across) {
    GRAFTWRIGHT_CHECK(radius_mm > 0 && points_across > 1, "a map needs a size");
    PowerMap map{points_across, points_across, {}};
    map.points.reserve(map.rows * map.columns);
    const double reach = std::fmin(radius_mm, surface.radius_covered());
    const auto place = [&](std::size_t index) {
        return radius_mm * (2 * static_cast<double>(index) / static_cast<double>(points_across - 1) - 1);
    };
    for (std::size_t row = 0; row < points_across; ++row) {
        for (std::size_t column = 0; column < points_across; ++column) {
            const double x = place(column), y = place(row);
            const double rho = std::hypot(x, y);
            MapPoint point = rho < kAtVertex ? vertex_point(surface) : map_point(surface, rho, std::atan2(y, x), reach);
            point.x_mm = x;
            point.y_mm = y;
            map.points.push_back(point);
        }
    }
    return map;
}

}  // namespace graftwright
