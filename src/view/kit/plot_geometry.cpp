#include "view/kit/plot_geometry.h"

#include <cmath>
#include <initializer_list>

#include "base/units.h"

namespace graftwright {

Point PolarFrame::place(double deg, double value) const {
    const double angle = rad_from_deg(deg);
    return place_xy(value * std::cos(angle), value * std::sin(angle));
}

Point PolarFrame::place_xy(double x, double y) const {
    return {centre.x + radius * x / full, centre.y - radius * y / full};
}

double round_step(double full, int most) {
    const double finest = full / most;
    double step = std::pow(10.0, std::floor(std::log10(finest)));
    for (const double times : {2.0, 2.5, 2.0}) {  // 1, 2, 5, 10
        if (step >= finest * (1.0 - 1e-9)) break;
        step *= times;
    }
    return step;
}

}  // namespace graftwright
