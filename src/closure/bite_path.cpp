#include "closure/bite_path.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace graftwright {
namespace {

// Spans of each strand; twice as many move the cylinder by less than 0.5 % (tests/closure).
constexpr int kSurfaceSpans = 4;
constexpr int kDeepSpans = 10;

struct SideBite {
    double theta, skew, length, depth, entry;
};

struct StrandPoint {
    double s, theta, z;
};

// Three-point Gauss–Hermite rule: places in σ and weights that sum to one.
constexpr std::array<double, 3> kHermitePlace = {-1.7320508075688772, 0.0, 1.7320508075688772};
constexpr std::array<double, 3> kHermiteWeight = {1.0 / 6.0, 2.0 / 3.0, 1.0 / 6.0};

// Spread along the meridian, narrower near the wound so that nothing lands beyond the cut.
void add_force(const Meridian& meridian, const StrandPoint& point, const Eigen::Vector3d& force,
               std::vector<PointForce>& forces) {
    const double room = std::abs(point.s - meridian.wound_s());
    const double sigma = std::min(kMeridianSpread, room / kHermitePlace.back());
    if (sigma < 1e-6) {
        forces.push_back({point.s, point.theta, point.z, force[0], force[1], force[2], kThreadSpread});
        return;
    }
    for (std::size_t i = 0; i < kHermitePlace.size(); ++i) {
        const Eigen::Vector3d part = kHermiteWeight[i] * force;
        forces.push_back(
            {point.s + sigma * kHermitePlace[i], point.theta, point.z, part[0], part[1], part[2], kThreadSpread});
    }
}

// Appends the forces of one strand (entry first, wound last); returns its length.
double add_strand(const Meridian& meridian, const std::vector<StrandPoint>& points, std::vector<PointForce>& forces) {
    const double outward = meridian.side() == WoundSide::donor ? 1.0 : -1.0;
    const StrandPoint& wound = points.back();
    const Eigen::Vector3d beyond = outward * meridian.frame(wound.s, wound.theta).col(0);
    Eigen::Vector3d last_tangent = Eigen::Vector3d::Zero();
    double length = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const StrandPoint& point = points[i];
        Eigen::Vector3d tangent = beyond;
        if (i + 1 < points.size()) {
            const StrandPoint& next = points[i + 1];
            const Eigen::Vector3d span =
                meridian.position(next.s, next.theta, next.z) - meridian.position(point.s, point.theta, point.z);
            length += span.norm();
            tangent = span.normalized();
        }
        const Eigen::Vector3d local = meridian.frame(point.s, point.theta).transpose() * (tangent - last_tangent);
        add_force(meridian, point, local, forces);
        last_tangent = tangent;
    }
    return length;
}

double add_side(const Meridian& meridian, const SideBite& bite, std::vector<PointForce>& forces) {
    const double s_entry = meridian.s_at_outer_distance(bite.length);
    const double radius_at_entry = meridian.position(s_entry, 0.0, 0.0).head<2>().norm();
    const double theta_entry = bite.theta + bite.skew / radius_at_entry;

    const auto point_at = [&](double along, double depth) {
        const double s = along < 1.0 ? meridian.s_at_outer_distance(bite.length * (1.0 - along)) : meridian.wound_s();
        const double half = 0.5 * meridian.element_holding(s).thickness;
        return StrandPoint{s, theta_entry + (bite.theta - theta_entry) * along, half - depth};
    };
    std::vector<StrandPoint> surface, deep;
    for (int i = 0; i <= kSurfaceSpans; ++i) {
        surface.push_back(point_at(static_cast<double>(i) / kSurfaceSpans, 0.0));
    }
    for (const SectionPoint& point : needle_section(bite.length, bite.depth, bite.entry, kDeepSpans)) {
        deep.push_back(point_at(point.along, point.depth));
    }
    return add_strand(meridian, surface, forces) + add_strand(meridian, deep, forces);
}

}  // namespace

BiteGeometry bite_geometry(const BitePath& path, double donor_turn) {
    BiteGeometry bite;
    bite.donor_theta = rad_from_deg(path.graft_deg) + donor_turn;
    bite.host_theta = rad_from_deg(path.host_deg);
    // Keep the two angles within half a turn of each other, so that their difference is the slip.
    bite.donor_theta = bite.host_theta + std::remainder(bite.donor_theta - bite.host_theta, 2.0 * kPi);
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
    path.length =
        add_side(donor, {bite.donor_theta, bite.donor_skew, bite.donor_length, bite.donor_depth, bite.donor_entry},
                 path.donor) +
        add_side(host, {bite.host_theta, bite.host_skew, bite.host_length, bite.host_depth, bite.host_exit}, path.host);
    return path;
}

}  // namespace graftwright
