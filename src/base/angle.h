// Angles round the wound: counter-clockwise as an examiner facing the eye sees them, 0° = 3 o'clock.
#pragma once

#include <cmath>

#include "base/units.h"

namespace graftwright {

// The short way from one angle to another, + counter-clockwise, within ±180° (±π). Exact but for the difference.
[[nodiscard]] inline double turn_between_deg(double from_deg, double to_deg) {
    return std::remainder(to_deg - from_deg, 360.0);
}
[[nodiscard]] inline double turn_between_rad(double from_rad, double to_rad) {
    return std::remainder(to_rad - from_rad, 2.0 * kPi);
}
// How far apart they are, 0 … 180°.
[[nodiscard]] inline double apart_deg(double a_deg, double b_deg) { return std::abs(turn_between_deg(a_deg, b_deg)); }

// Any angle to [0, 360); what lies there already keeps its bits, and there is no negative zero.
[[nodiscard]] inline double one_turn_deg(double deg) {
    double turned = std::fmod(deg, 360.0);
    if (turned < 0.0) turned += 360.0;
    return turned >= 360.0 ? 0.0 : turned + 0.0;
}

// Where an hour of the clock face stands, [0, 360): 12 at 90°, 3 at 0°, 6.5 at 255°.
inline constexpr double kDegPerHour = 30.0;
[[nodiscard]] inline double hour_deg(double hour) { return one_turn_deg(90.0 - kDegPerHour * hour); }

}  // namespace graftwright
