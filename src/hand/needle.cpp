#include "hand/needle.h"

#include "base/angle.h"

namespace graftwright {

double NeedlePose::pitch_deg() const {
    // Heading (−sin a, cos a) = (cos p, −sin p) gives a = −π/2 − p; p within (−180, 180].
    return -turn_between_deg(-90.0, deg_from_rad(tip_rad));
}

NeedlePose needle_at(const Needle& needle, Point tip, double pitch_deg) {
    NeedlePose pose;
    pose.tip_rad = -kPi / 2.0 - rad_from_deg(pitch_deg);
    const double radius = needle.radius_mm();
    pose.centre = {tip.x - radius * std::cos(pose.tip_rad), tip.y - radius * std::sin(pose.tip_rad)};
    return pose;
}

}  // namespace graftwright
