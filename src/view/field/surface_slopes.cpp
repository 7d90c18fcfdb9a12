#include "view/field/surface_slopes.h"

#include <algorithm>
#include <cmath>

namespace graftwright {

double slope_beyond_sphere(const SurfaceMap& map, Point at, bool along_x, double radius_mm) {
    const double r = norm(at);
    const auto value = [&](double shrink) -> double {
        const Point p{at.x * shrink, at.y * shrink};
        // Between the four places around it; nothing where one of them lies outside the donor.
        const double u = std::clamp((p.x / map.reach_mm + 1.0) / 2.0 * (map.n - 1), 0.0, map.n - 1.001);
        const double v = std::clamp((p.y / map.reach_mm + 1.0) / 2.0 * (map.n - 1), 0.0, map.n - 1.001);
        const int i = static_cast<int>(u), j = static_cast<int>(v);
        const double a = u - i, b = v - j;
        const auto corner = [&](int di, int dj) { return static_cast<double>(map.at(i + di, j + dj)); };
        const double slope = (1.0 - b) * ((1.0 - a) * corner(0, 0) + a * corner(1, 0)) +
                             b * ((1.0 - a) * corner(0, 1) + a * corner(1, 1));
        const double height = std::sqrt(std::max(radius_mm * radius_mm - p.x * p.x - p.y * p.y, 1.0));
        return slope + (along_x ? p.x : p.y) / height;
    };
    const double here = r < map.reach_mm * 1.4 ? value(1.0) : std::nan("");
    if (std::isfinite(here)) return here;
    // Past the donor's edge: what the edge does, dying out over half a millimetre of rim.
    constexpr double kFade_mm = 0.5;
    for (double inside = r; inside > 0.5; inside -= 0.1) {
        const double found = value(inside / r);
        if (std::isfinite(found)) return found * std::exp(-std::pow((r - inside) / kFade_mm, 2.0));
    }
    return 0.0;
}

double radial_slope_beyond_sphere(const LiveWound& wound, Point at, double radius_mm) {
    const double r = norm(at);
    if (r < 1e-6 || wound.slope_x.n < 2 || wound.slope_y.n < 2) return 0.0;
    return (slope_beyond_sphere(wound.slope_x, at, true, radius_mm) * at.x +
            slope_beyond_sphere(wound.slope_y, at, false, radius_mm) * at.y) /
           r;
}

}  // namespace graftwright
