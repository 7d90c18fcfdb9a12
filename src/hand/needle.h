// A surgical needle: a rigid circular arc in the plane of the bite.
//
//   radius R = arc length / sweep,  chord = 2R sin(sweep/2),  sagitta = R(1 − cos(sweep/2))
// (geometry; figures T7-01 … T7-05). Default: 3/8 circle, 6 mm along the arc: R 2.546 mm.
// Section frame, mm: x along the bite's plane, outward, 0 at the host's wound edge; y out of the eye,
// 0 at the flat front of the host. A needle that drives from donor to host turns counter-clockwise as
// seen with x to the right and y up: its tip goes down, outward and up again.
#pragma once

#include <cmath>

#include "base/point.h"
#include "base/units.h"

namespace graftwright {

struct Needle {
    double arc_mm = 6.0;
    double sweep_deg = 135.0;

    [[nodiscard]] double radius_mm() const { return arc_mm / rad_from_deg(sweep_deg); }
    [[nodiscard]] double chord_mm() const { return 2.0 * radius_mm() * std::sin(rad_from_deg(sweep_deg) / 2.0); }
    [[nodiscard]] double sagitta_mm() const { return radius_mm() * (1.0 - std::cos(rad_from_deg(sweep_deg) / 2.0)); }
};

// Where a needle is: centre of its circle and where on the circle its tip stands (rad, counter-clockwise
// from +x; the tip at −π/2 is at the lowest point and heads outward). The body trails clockwise from it.
struct NeedlePose {
    Point centre;
    double tip_rad = 0.0;

    // A point of the needle, `behind` mm of arc behind the tip.
    [[nodiscard]] Point at(const Needle& needle, double behind_mm = 0.0) const {
        const double radius = needle.radius_mm();
        const double angle = tip_rad - behind_mm / radius;
        return {centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle)};
    }
    // Pitch: angle of the tip's heading below the horizontal (deg, positive = down into the eye).
    [[nodiscard]] double pitch_deg() const;
};

// The pose with its tip at a point, heading `pitch_deg` below the horizontal, outward.
[[nodiscard]] NeedlePose needle_at(const Needle& needle, Point tip, double pitch_deg);

}  // namespace graftwright
