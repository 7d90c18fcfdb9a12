#include "closure/strand.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <Eigen/Geometry>

#include "closure/bite_path.h"

namespace graftwright {
namespace {

// Spans of each strand; twice as many move the cylinder by less than 0.5 % (tests/closure).
constexpr int kSurfaceSpans = 4;
constexpr int kDeepSpans = 10;

// Three-point Gauss–Hermite rule: places in σ and weights that sum to one.
constexpr std::array<double, 3> kHermitePlace = {-1.7320508075688772, 0.0, 1.7320508075688772};
constexpr std::array<double, 3> kHermiteWeight = {1.0 / 6.0, 2.0 / 3.0, 1.0 / 6.0};

// Spread along the meridian, narrower near the wound so that nothing lands beyond the cut.
void add_local_force(const Meridian& meridian, const StrandPoint& point, const Eigen::Vector3d& force,
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

StrandPoint place(const Meridian& meridian, const SideBite& bite, double along, double depth) {
    const double s_entry = meridian.s_at_outer_distance(bite.length);
    const double radius_at_entry = meridian.position(s_entry, 0.0, 0.0).head<2>().norm();
    const double theta_entry = bite.theta + bite.skew / radius_at_entry;
    const double s = along < 1.0 ? meridian.s_at_outer_distance(bite.length * (1.0 - along)) : meridian.wound_s();
    const double half = 0.5 * meridian.element_holding(s).thickness;
    return StrandPoint{s, theta_entry + (bite.theta - theta_entry) * along, half - depth};
}

}  // namespace

void add_force(const Meridian& meridian, const StrandPoint& point, const Eigen::Vector3d& force,
               std::vector<PointForce>& forces) {
    add_local_force(meridian, point, meridian.frame(point.s, point.theta).transpose() * force, forces);
}

Eigen::Vector3d across_the_wound(const Meridian& meridian, const StrandPoint& wound) {
    const double outward = meridian.side() == WoundSide::donor ? 1.0 : -1.0;
    return outward * meridian.frame(wound.s, wound.theta).col(0);
}

double bend(const Eigen::Vector3d& a, const Eigen::Vector3d& b) { return std::atan2(a.cross(b).norm(), a.dot(b)); }

Strand add_strand(const Meridian& meridian, const std::vector<StrandPoint>& points, const Eigen::Vector3d& beyond,
                  std::vector<PointForce>& forces) {
    Strand strand;
    Eigen::Vector3d last_tangent = Eigen::Vector3d::Zero();
    for (std::size_t i = 0; i < points.size(); ++i) {
        const StrandPoint& point = points[i];
        Eigen::Vector3d tangent = beyond;
        if (i + 1 < points.size()) {
            const StrandPoint& next = points[i + 1];
            const Eigen::Vector3d span =
                meridian.position(next.s, next.theta, next.z) - meridian.position(point.s, point.theta, point.z);
            strand.length += span.norm();
            tangent = span.normalized();
        }
        if (i == 0) strand.first_tangent = tangent;
        if (i > 0) strand.turning += bend(last_tangent, tangent);
        const Eigen::Vector3d local = meridian.frame(point.s, point.theta).transpose() * (tangent - last_tangent);
        add_local_force(meridian, point, local, forces);
        last_tangent = tangent;
    }
    return strand;
}

StrandPoint entry_place(const Meridian& meridian, const SideBite& bite) { return place(meridian, bite, 0.0, 0.0); }

std::vector<StrandPoint> surface_places(const Meridian& meridian, const SideBite& bite) {
    std::vector<StrandPoint> places;
    for (int i = 0; i <= kSurfaceSpans; ++i) {
        places.push_back(place(meridian, bite, static_cast<double>(i) / kSurfaceSpans, 0.0));
    }
    return places;
}

std::vector<StrandPoint> deep_places(const Meridian& meridian, const SideBite& bite) {
    std::vector<StrandPoint> places;
    for (const SectionPoint& point : needle_section(bite.length, bite.depth, bite.entry, kDeepSpans)) {
        places.push_back(place(meridian, bite, point.along, point.depth));
    }
    return places;
}

}  // namespace graftwright
