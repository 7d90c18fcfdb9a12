#include "closure/bite_path.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <Eigen/Geometry>
#include <catch2/catch.hpp>

#include "drawn_bites.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// A force that is spread along the meridian keeps its components in the local frame, and the frame
// turns: of a Gaussian of σ on a sphere of radius R only 1 − σ²/2R² is left of the force in space.
constexpr double kLeftOutBySpread = 0.5 * kMeridianSpread * kMeridianSpread / (7.525 * 7.525);

struct Wrench {
    Eigen::Vector3d force = Eigen::Vector3d::Zero(), moment = Eigen::Vector3d::Zero();
    double amount = 0.0;  // Σ |force|
};

Wrench wrench_of(const Meridian& meridian, const std::vector<PointForce>& forces) {
    Wrench sum;
    for (const PointForce& force : forces) {
        const Eigen::Vector3d local(force.along_meridian, force.along_circumference, force.along_normal);
        const Eigen::Vector3d in_space = meridian.frame(force.s, force.theta) * local;
        sum.force += in_space;
        sum.moment += meridian.position(force.s, force.theta, force.z).cross(in_space);
        sum.amount += in_space.norm();
    }
    return sum;
}

// What two strands of unit tension put on a side: each pulls at the wound face, along the meridian.
Wrench wanted_wrench(const Meridian& meridian, double theta, double depth, double toward_other_side) {
    const double s = meridian.wound_s(), half = 0.5 * meridian.element_holding(s).thickness;
    const Eigen::Vector3d pull = toward_other_side * meridian.frame(s, theta).col(0);
    Wrench wrench;
    wrench.force = 2.0 * pull;
    wrench.moment =
        meridian.position(s, theta, half).cross(pull) + meridian.position(s, theta, half - depth).cross(pull);
    return wrench;
}

struct Sides {
    Meridian donor, host;
};

// Nearly flat, so that lengths and angles are those on paper.
Sides flat_sides() {
    EyeShape shape = scenes::standard_eye();
    shape.mid_radius = 1e6;
    shape.sclera_radius = 1e6;
    return {Meridian::donor(shape, {}), Meridian::host(shape, {})};
}

ThreadPath path_on(const Sides& sides, const BiteGeometry& bite) { return thread_path(bite, sides.donor, sides.host); }

// Quarter of an ellipse's circumference by the midpoint rule (periodic: exact to rounding).
double quarter_ellipse(double a, double b) {
    constexpr int steps = 400;
    double sum = 0.0;
    for (int i = 0; i < steps; ++i) {
        const double x = 0.5 * kPi * (i + 0.5) / steps;
        sum += std::hypot(a * std::sin(x), b * std::cos(x));
    }
    return sum * 0.5 * kPi / steps;
}

// Force per unit tension into the tissue at the entry: of the deep strand alone, since on a flat eye the
// surface strand has no part along the normal.
double inward_at_entry(const ThreadPath& path) {
    double inward = 0.0;
    for (const PointForce& force : path.donor) {
        if (force.z == 0.5 * 0.55) inward -= force.along_normal;
    }
    return inward;
}

}  // namespace

TEST_CASE("bite path: each side's forces are twice the tension toward the other side, with the strands' own moment",
          "[closure][property]") {
    const WoundModel& model = scenes::standard_model();
    const Meridian& donor = model.donor().meridian();
    const Meridian& host = model.host().meridian();
    CHECK(rc::check("any bite of the format", [&] {
        BiteGeometry bite = drawn::any_bite(model, drawn::between(0.0, 360.0));
        // Short of the limbus by the spread along the meridian: beyond it the frame has another slope, and the part
        // of an exit's force that is spread over there turns with it (0.3 % of the sum at most).
        bite.host_length = std::min(bite.host_length, host.outer_length() - 3.0 * kMeridianSpread);
        const ThreadPath path = thread_path(bite, donor, host);
        const Wrench on_donor = wrench_of(donor, path.donor), on_host = wrench_of(host, path.host);
        const Wrench donor_wanted = wanted_wrench(donor, bite.donor_theta, bite.donor_depth, 1.0);
        const Wrench host_wanted = wanted_wrench(host, bite.host_theta, bite.host_depth, -1.0);
        // Lever arms are within the eye: 10 mm.
        RC_ASSERT((on_donor.force - donor_wanted.force).norm() < 1.01 * kLeftOutBySpread * on_donor.amount + 1e-12);
        RC_ASSERT((on_host.force - host_wanted.force).norm() < 1.01 * kLeftOutBySpread * on_host.amount + 1e-12);
        RC_ASSERT((on_donor.moment - donor_wanted.moment).norm() < 10.0 * kLeftOutBySpread * on_donor.amount + 1e-12);
        RC_ASSERT((on_host.moment - host_wanted.moment).norm() < 10.0 * kLeftOutBySpread * on_host.amount + 1e-12);
    }));
}

TEST_CASE("bite path: on a flat eye the forces sum to twice the tension exactly", "[closure]") {
    const Sides sides = flat_sides();
    BiteGeometry bite = scenes::bite_at(0.0);
    bite.donor_entry = rad_from_deg(50.0);
    const ThreadPath path = path_on(sides, bite);
    const Eigen::Vector3d donor = wrench_of(sides.donor, path.donor).force,
                          host = wrench_of(sides.host, path.host).force;
    // Rounding of places in space: 1e6 mm · 1e-16 over spans of 0.02 mm.
    CHECK_THAT(donor.x(), WithinAbs(2.0, 1e-7));
    CHECK_THAT(host.x(), WithinAbs(-2.0, 1e-7));
    CHECK_THAT(donor.y() + host.y(), WithinAbs(0.0, 1e-7));
}

TEST_CASE("bite path: a perpendicular entry is a quarter ellipse, the flattest a straight line", "[closure]") {
    const Sides sides = flat_sides();
    BiteGeometry bite = scenes::bite_at(30.0);
    bite.donor_length = 1.2;
    bite.host_length = 0.9;
    const double donor_depth = bite.donor_depth, host_depth = bite.host_depth;

    const double round = path_on(sides, bite).length;
    // A polygon of 10 spans is short of the ellipse by up to (π/20)²/24 = 0.10 %.
    CHECK_THAT(round,
               WithinRel(1.2 + 0.9 + quarter_ellipse(1.2, donor_depth) + quarter_ellipse(0.9, host_depth), 1.1e-3));

    bite.donor_entry = std::atan2(donor_depth, 1.2);
    bite.host_exit = std::atan2(host_depth, 0.9);
    const double straight = path_on(sides, bite).length;
    CHECK_THAT(straight, WithinRel(1.2 + 0.9 + std::hypot(1.2, donor_depth) + std::hypot(0.9, host_depth), 1e-6));

    bite.donor_entry *= 0.5;
    bite.host_exit *= 0.1;
    CHECK(path_on(sides, bite).length == straight);  // flatter than straight is straight
}

TEST_CASE("bite path: the entry angle turns the needle's first span from straight to perpendicular", "[closure]") {
    const Sides sides = flat_sides();
    BiteGeometry bite = scenes::bite_at(0.0);
    const double depth = bite.donor_depth, flattest = std::atan2(depth, bite.donor_length);
    bite.donor_entry = flattest;
    double last = inward_at_entry(path_on(sides, bite));
    CHECK_THAT(last, WithinRel(std::sin(flattest), 1e-4));
    double last_length = path_on(sides, bite).length;
    for (double share : {0.25, 0.5, 0.75, 1.0}) {
        bite.donor_entry = flattest + share * (0.5 * kPi - flattest);
        const ThreadPath path = path_on(sides, bite);
        const double inward = inward_at_entry(path);
        CAPTURE(share, inward);
        CHECK(inward > last + 0.02);
        CHECK(path.length > last_length);
        last = inward;
        last_length = path.length;
        // Half-way between line and ellipse, span by span: the first of 10 spans.
        const double x = 1.0 / 10.0, a = 0.5 * kPi * x;
        const double along = bite.donor_length * ((1.0 - share) * x + share * (1.0 - std::cos(a)));
        const double down = depth * ((1.0 - share) * x + share * std::sin(a));
        CHECK_THAT(inward, WithinRel(down / std::hypot(along, down), 1e-4));
    }
    CHECK(last > 0.98);
}

TEST_CASE("bite path: the surface strand is as long as the bite along the surface", "[closure]") {
    // A bite without depth: both strands run on the surface, and what is left is the arc, less its
    // polygon's shortness (1/4 · 1.5 mm over 7.8 mm)²/24.
    const WoundModel& model = scenes::standard_model();
    BiteGeometry bite = scenes::bite_at(200.0);
    bite.donor_depth = bite.host_depth = 0.0;
    bite.donor_length = 1.5;
    bite.host_length = 0.8;
    bite.donor_entry = bite.host_exit = 0.0;
    const ThreadPath path = thread_path(bite, model.donor().meridian(), model.host().meridian());
    CHECK_THAT(path.length, WithinRel(2.0 * (1.5 + 0.8), 1e-4));
}

TEST_CASE("bite path: a skewed bite enters off the radial line and mirrors when the skew changes its sign",
          "[closure]") {
    const WoundModel& model = scenes::standard_model();
    const Meridian& donor = model.donor().meridian();
    BiteGeometry bite = scenes::bite_at(0.0);
    bite.donor_skew = 0.4;
    const ThreadPath left = thread_path(bite, donor, model.host().meridian());
    bite.donor_skew = -0.4;
    const ThreadPath right = thread_path(bite, donor, model.host().meridian());
    bite.donor_skew = 0.0;
    const ThreadPath radial = thread_path(bite, donor, model.host().meridian());

    REQUIRE(left.donor.size() == right.donor.size());
    double farthest = 0.0;
    for (std::size_t i = 0; i < left.donor.size(); ++i) {
        CHECK_THAT(left.donor[i].theta, WithinAbs(-right.donor[i].theta, 1e-15));
        CHECK_THAT(left.donor[i].along_circumference, WithinAbs(-right.donor[i].along_circumference, 1e-12));
        CHECK_THAT(left.donor[i].along_meridian, WithinAbs(right.donor[i].along_meridian, 1e-12));
        CHECK_THAT(left.donor[i].along_normal, WithinAbs(right.donor[i].along_normal, 1e-12));
        farthest = std::max(farthest, left.donor[i].theta);
    }
    // 0.4 mm sideways, on the middle surface where the thread enters.
    const double s = donor.s_at_outer_distance(bite.donor_length);
    CHECK_THAT(farthest, WithinRel(0.4 / donor.position(s, 0.0, 0.0).head<2>().norm(), 1e-12));
    // The surface strand is at least a triangle's longer side; neither strand gains more than one 1.1 mm long
    // whose sideways way is all at the wound, where the same angle is widest.
    CHECK(left.length > radial.length + std::hypot(1.1, 0.4) - 1.1);
    CHECK(left.length < radial.length + 2.0 * (std::hypot(1.1, farthest * 3.875) - 1.1));
}

TEST_CASE("bite path: the donor's own frame is turned into the eye's, the short way round", "[closure]") {
    BitePath path;
    path.graft_deg = 5.0;
    path.host_deg = 358.0;
    path.graft_depth_um = 480.0;
    const BiteGeometry bite = bite_geometry(path, rad_from_deg(-6.0));
    CHECK_THAT(deg_from_rad(bite.host_theta - bite.donor_theta), WithinAbs(-1.0, 1e-10));
    CHECK_THAT(bite.donor_depth, WithinRel(0.48, 1e-12));
    // A donor laid in with another turn, its marks turned back: the same bite.
    path.graft_deg = 65.0;
    const BiteGeometry turned = bite_geometry(path, rad_from_deg(-66.0));
    CHECK_THAT(turned.donor_theta, WithinAbs(bite.donor_theta, 1e-14));
}
