#include "view/kit/plot_geometry.h"

#include <cmath>

#include <fmt/format.h>

#include "base/units.h"
#include "closure/bite_path.h"

namespace graftwright {

Point PolarFrame::place(double deg, double value) const {
    const double angle = rad_from_deg(deg);
    return place_xy(value * std::cos(angle), value * std::sin(angle));
}

Point PolarFrame::place_xy(double x, double y) const {
    return {centre.x + radius * x / full, centre.y - radius * y / full};
}

Point double_angle_arrow(const PowerVector& power) { return {2.0 * power.J0_D, 2.0 * power.J45_D}; }

double double_angle_direction_deg(double steep_axis_deg) { return 2.0 * steep_axis_deg; }

double round_step(double full, int most) {
    const double finest = full / most;
    double step = std::pow(10.0, std::floor(std::log10(finest)));
    for (const double times : {2.0, 2.5, 2.0}) {  // 1, 2, 5, 10
        if (step >= finest * (1.0 - 1e-9)) break;
        step *= times;
    }
    return step;
}

double raised_to(double value, double step) { return step * std::ceil(value / step - 1e-9); }

double hour_deg(int hour) {
    const double deg = std::fmod(90.0 - 30.0 * hour, 360.0);
    return deg < 0.0 ? deg + 360.0 : deg;
}

std::vector<Point> bite_section(const BitePath& bite) {
    constexpr int kSpans = 16;
    std::vector<Point> way;
    const auto donor =
        needle_section(bite.graft_bite_mm, mm_from_um(bite.graft_depth_um), rad_from_deg(bite.graft_entry_deg), kSpans);
    const auto host =
        needle_section(bite.host_bite_mm, mm_from_um(bite.host_depth_um), rad_from_deg(bite.host_exit_deg), kSpans);
    for (const SectionPoint& point : donor) way.push_back({-bite.graft_bite_mm * (1.0 - point.along), -point.depth});
    for (auto point = host.rbegin(); point != host.rend(); ++point)
        way.push_back({bite.host_bite_mm * (1.0 - point->along), -point->depth});
    return way;
}

std::vector<Point> closed(std::vector<Point> line) {
    if (!line.empty() && !(line.front() == line.back())) line.push_back(line.front());
    return line;
}

}  // namespace graftwright
