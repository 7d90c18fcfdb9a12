#include "closure/run_path.h"

#include <cmath>

#include <Eigen/Geometry>

namespace graftwright {
namespace {

// A length on the surface, from the host's exit to the donor's entry, along a great circle of the sphere that both
// sides share. As unit normals; α is the angle from the axis.
class GreatCircle {
  public:
    GreatCircle(const Eigen::Vector3d& from, const Eigen::Vector3d& to)
        : from_(from), sideways_((to - to.dot(from) * from).normalized()), whole_(bend(from, to)) {}

    [[nodiscard]] Eigen::Vector3d at(double share) const {
        return std::cos(share * whole_) * from_ + std::sin(share * whole_) * sideways_;
    }
    [[nodiscard]] Eigen::Vector3d direction(double share) const {
        return -std::sin(share * whole_) * from_ + std::cos(share * whole_) * sideways_;
    }
    // The share of the way at which it is as high as this (cos α), between an end below and an end above.
    [[nodiscard]] double share_at_height(double height) const {
        constexpr int kHalvings = 60;
        double low = 0.0, high = 1.0;
        for (int i = 0; i < kHalvings; ++i) {
            const double middle = 0.5 * (low + high);
            (at(middle).z() < height ? low : high) = middle;
        }
        return 0.5 * (low + high);
    }

  private:
    Eigen::Vector3d from_, sideways_;
    double whole_;
};

// Part of the way, from its end on this side (entry or exit) to the wound, as places on the outer surface.
std::vector<StrandPoint> surface_way(const Meridian& meridian, const StrandPoint& entry, const GreatCircle& way,
                                     double share_at_entry, double share_at_wound) {
    constexpr int kSpans = 6;
    const ShellElement& edge = meridian.element_holding(meridian.wound_s());
    const double alpha_wound = edge.alpha_at(meridian.wound_s());
    std::vector<StrandPoint> places{entry};
    for (int i = 1; i <= kSpans; ++i) {
        const double share = share_at_entry + (share_at_wound - share_at_entry) * i / kSpans;
        const Eigen::Vector3d normal = way.at(share);
        const double theta = std::atan2(normal.y(), normal.x());
        const double s =
            i == kSpans ? meridian.wound_s() : meridian.wound_s() + (std::acos(normal.z()) - alpha_wound) * edge.radius;
        places.push_back({s, theta, 0.5 * meridian.element_holding(s).thickness});
    }
    return places;
}

struct Half {
    double length = 0.0, turning = 0.0;
};

// One side of a span: the needle's half bite, from the wound up, and the surface back to the wound. The end at the
// wound is held by half of the tissue on this side; the other half is the caller's.
Half add_half(const Meridian& meridian, const SideBite& bite, const std::vector<StrandPoint>& surface,
              const Eigen::Vector3d& beyond_surface, std::vector<PointForce>& forces) {
    const std::vector<StrandPoint> deep = deep_places(meridian, bite);
    const Eigen::Vector3d across = across_the_wound(meridian, deep.back());
    const Strand in_tissue = add_strand(meridian, deep, across, forces);
    add_force(meridian, deep.back(), -0.5 * across, forces);
    const Strand on_surface = add_strand(meridian, surface, beyond_surface, forces);
    const double at_entry = bend(-on_surface.first_tangent, in_tissue.first_tangent);
    return {in_tissue.length + on_surface.length, in_tissue.turning + on_surface.turning + at_entry};
}

// The other side's tissue at a bite's wound crossing holds a span's end there.
void hold_end(const Meridian& meridian, const SideBite& bite, std::vector<PointForce>& forces) {
    const StrandPoint wound = deep_places(meridian, bite).back();
    add_force(meridian, wound, 0.5 * across_the_wound(meridian, wound), forces);
}

}  // namespace

SpanPath span_path(const BiteGeometry& from, const BiteGeometry& to, const Meridian& donor, const Meridian& host) {
    const StrandPoint exit = entry_place(host, host_side(from)), entry = entry_place(donor, donor_side(to));
    const GreatCircle way(host.frame(exit.s, exit.theta).col(2), donor.frame(entry.s, entry.theta).col(2));
    const double crossing =
        way.share_at_height(std::cos(donor.element_holding(donor.wound_s()).alpha_at(donor.wound_s())));
    const Eigen::Vector3d inward = way.direction(crossing), normal = way.at(crossing);

    SpanPath span;
    span.crossing_theta = std::atan2(normal.y(), normal.x());
    span.outward = -inward;
    span.obliquity = bend(inward, -donor.frame(donor.wound_s(), span.crossing_theta).col(0));
    const Half host_half =
        add_half(host, host_side(from), surface_way(host, exit, way, 0.0, crossing), inward, span.path.host);
    const Half donor_half =
        add_half(donor, donor_side(to), surface_way(donor, entry, way, 1.0, crossing), -inward, span.path.donor);
    hold_end(donor, donor_side(from), span.path.donor);
    hold_end(host, host_side(to), span.path.host);
    span.path.length = host_half.length + donor_half.length;
    span.turning_from = host_half.turning;
    span.turning_to = donor_half.turning;
    return span;
}

}  // namespace graftwright
