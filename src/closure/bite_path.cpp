#include "closure/bite_path.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "base/units.h"

namespace graftwright {
namespace {

double add_side(const Meridian& meridian, const SideBite& bite, std::vector<PointForce>& forces) {
    const std::vector<StrandPoint> surface = surface_places(meridian, bite), deep = deep_places(meridian, bite);
    const Eigen::Vector3d beyond = across_the_wound(meridian, surface.back());
    const double on_surface = add_strand(meridian, surface, beyond, forces).length;
    return on_surface + add_strand(meridian, deep, beyond, forces).length;
}

}  // namespace

BiteGeometry bite_geometry(const BitePath& path, double donor_turn) {
    BiteGeometry bite;
    bite.donor_theta = rad_from_deg(path.graft_deg) + donor_turn;
    bite.host_theta = rad_from_deg(path.host_deg);
    // Keep the two angles within half a turn of each other, so that their difference is the slip.
    bite.donor_theta = bite.host_theta + turn_between_rad(bite.host_theta, bite.donor_theta);
    bite.donor_skew = path.graft_skew_mm;
    bite.host_skew = path.host_skew_mm;
    bite.donor_length = path.graft_bite_mm;
    bite.host_length = path.host_bite_mm;
    bite.donor_depth = mm_from_um(path.graft_depth_um);
    bite.host_depth = mm_from_um(path.host_depth_um);
    bite.donor_entry = rad_from_deg(path.graft_entry_deg);
    bite.host_exit = rad_from_deg(path.host_exit_deg);
    return bite;
}

SideBite donor_side(const BiteGeometry& bite) {
    return {bite.donor_theta, bite.donor_skew, bite.donor_length, bite.donor_depth, bite.donor_entry};
}
SideBite host_side(const BiteGeometry& bite) {
    return {bite.host_theta, bite.host_skew, bite.host_length, bite.host_depth, bite.host_exit};
}

std::vector<SectionPoint> needle_section(double length, double depth, double entry, int spans) {
    // 1: quarter ellipse (perpendicular entry); 0: straight line.
    const double straight = std::atan2(depth, length);
    const double roundness = std::clamp((entry - straight) / (0.5 * kPi - straight), 0.0, 1.0);
    std::vector<SectionPoint> way;
    for (int i = 0; i <= spans; ++i) {
        const double x = static_cast<double>(i) / spans;
        const double round_x = 1.0 - std::cos(0.5 * kPi * x), round_depth = std::sin(0.5 * kPi * x);
        const double along = i == spans ? 1.0 : (1.0 - roundness) * x + roundness * round_x;
        way.push_back({along, depth * ((1.0 - roundness) * x + roundness * round_depth)});
    }
    return way;
}

ThreadPath thread_path(const BiteGeometry& bite, const Meridian& donor, const Meridian& host) {
    ThreadPath path;
    path.length = add_side(donor, donor_side(bite), path.donor) + add_side(host, host_side(bite), path.host);
    return path;
}

}  // namespace graftwright
