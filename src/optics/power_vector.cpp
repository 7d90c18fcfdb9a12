#include "optics/power_vector.h"

#include <cmath>

#include "base/units.h"

namespace graftwright {
namespace {

// ½ atan2(J45, J0) in [0, 180); 0 where there is no cylinder (signed zeros would say 90).
double half_angle_deg(double J0_D, double J45_D) {
    if (J0_D == 0 && J45_D == 0) return 0;
    return axis_in_half_turn_deg(deg_from_rad(0.5 * std::atan2(J45_D, J0_D)));
}

}  // namespace

double PowerVector::half_cylinder_D() const { return std::hypot(J0_D, J45_D); }

double PowerVector::along_D(double meridian_deg) const {
    const double twice = 2 * rad_from_deg(meridian_deg);
    return M_D + J0_D * std::cos(twice) + J45_D * std::sin(twice);
}

PowerVector operator-(const PowerVector& a, const PowerVector& b) {
    return {a.M_D - b.M_D, a.J0_D - b.J0_D, a.J45_D - b.J45_D};
}

double axis_in_half_turn_deg(double angle_deg) {
    double axis_deg = std::fmod(angle_deg, 180.0);
    if (axis_deg < 0) axis_deg += 180.0;
    // Minus a rounding error plus 180 is 180, which is written 0; adding 0 turns -0 into 0.
    return axis_deg >= 180.0 ? 0.0 : axis_deg + 0.0;
}

CornealPower cornea_of_vector(const PowerVector& vector) {
    return {vector.M_D, 2 * vector.half_cylinder_D(), half_angle_deg(vector.J0_D, vector.J45_D)};
}

}  // namespace graftwright
