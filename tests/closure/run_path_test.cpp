// The way of a running thread: forces that balance, bends that add up, and the single bite as its limit.
#include "closure/run_path.h"

#include <cmath>

#include <Eigen/Geometry>
#include <catch2/catch.hpp>

#include "../scenes/running_scenes.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// A force spread along the meridian over 0.1 mm turns with it: its sum in space is off by the square of 0.1 over 7.5.
constexpr double kTurnedBySpreading = 2e-4;

const Meridian& donor() { return scenes::standard_model().donor().meridian(); }
const Meridian& host() { return scenes::standard_model().host().meridian(); }

// Sum of forces and of moments about the sphere's centre, in space.
struct SpaceWrench {
    Eigen::Vector3d force = Eigen::Vector3d::Zero(), moment = Eigen::Vector3d::Zero();
    void add(const Meridian& meridian, const std::vector<PointForce>& forces) {
        for (const PointForce& f : forces) {
            const Eigen::Vector3d in_space =
                meridian.frame(f.s, f.theta) * Eigen::Vector3d(f.along_meridian, f.along_circumference, f.along_normal);
            force += in_space;
            moment += meridian.position(f.s, f.theta, f.z).cross(in_space);
        }
    }
};

SpaceWrench of_both_sides(const ThreadPath& path) {
    SpaceWrench sum;
    sum.add(donor(), path.donor);
    sum.add(host(), path.host);
    return sum;
}

BiteGeometry crooked_bite(double deg) {
    BiteGeometry bite = scenes::bite_at(deg);
    bite.donor_skew = 0.12;
    bite.host_skew = -0.07;
    bite.host_length = 1.3;
    bite.donor_depth = 0.4;
    bite.host_exit = 1.1;
    return bite;
}

}  // namespace

TEST_CASE("run path: a span's forces on both sides sum to nothing, crooked or not", "[closure]") {
    for (const auto& [from, to] :
         {std::pair(scenes::bite_at(90.0), scenes::bite_at(112.5)), std::pair(crooked_bite(10.0), crooked_bite(340.0)),
          std::pair(scenes::bite_at(0.0), scenes::bite_at(90.0))}) {
        const SpaceWrench sum = of_both_sides(span_path(from, to, donor(), host()).path);
        CHECK(sum.force.norm() < kTurnedBySpreading);
        // The two halves of a crossing do not meet in one point where depths differ, and a force spread along a curved
        // meridian turns with it: moments vanish to the lever of that, some hundredths of a millimetre.
        CHECK(sum.moment.norm() < 0.25);
    }
}

TEST_CASE("run path: a straight span has no moment of its own", "[closure]") {
    const SpaceWrench sum =
        of_both_sides(span_path(scenes::bite_at(90.0), scenes::bite_at(112.5), donor(), host()).path);
    CHECK(sum.moment.norm() < 0.03);
}

TEST_CASE("run path: all spans with one tension pull the donor outward and turn it, by hand to check", "[closure]") {
    // Of the donor: surface T t and deep T m at each of n bites; their circumferential part is n T sin ψ at the wound.
    constexpr int kBites = 16;
    const std::vector<BiteGeometry> bites = scenes::equal_run(kBites);
    SpaceWrench on_donor;
    double obliquity = 0.0;
    for (const auto& [from, to] : scenes::ends_of(bites)) {
        const SpanPath span = span_path(from, to, donor(), host());
        on_donor.add(donor(), span.path.donor);
        obliquity = span.obliquity;
    }
    const double outer_radius = 7.8 * std::sin(donor().element_holding(donor().wound_s()).alpha_at(donor().wound_s()));
    CHECK(on_donor.force.head<2>().norm() < 1e-9);  // sixteen of them cancel
    CHECK_THAT(std::abs(on_donor.moment.z()), WithinRel(kBites * std::sin(obliquity) * outer_radius, 0.01));
    // The thread goes from a host exit to the next donor entry counter-clockwise, so it drags the donor clockwise.
    CHECK(on_donor.moment.z() < 0.0);
    // Between exit (r about 4.9) and entry (2.8) 22.5° apart: 35° or so.
    CHECK(deg_from_rad(obliquity) > 30.0);
    CHECK(deg_from_rad(obliquity) < 40.0);
}

TEST_CASE("run path: a run of one bite is that bite's loop", "[closure]") {
    const BiteGeometry bite = scenes::bite_at(40.0);
    const SpanPath span = span_path(bite, bite, donor(), host());
    const ThreadPath loop = thread_path(bite, donor(), host());
    CHECK_THAT(span.path.length, WithinRel(loop.length, 1e-4));
    CHECK_THAT(span.obliquity, WithinAbs(0.0, 1e-9));
    SpaceWrench of_span, of_loop;
    of_span.add(donor(), span.path.donor);
    of_loop.add(donor(), loop.donor);
    CHECK((of_span.force - of_loop.force).norm() < kTurnedBySpreading);
    CHECK((of_span.moment - of_loop.moment).norm() < 0.01);
    const auto loads = make_span_loads(scenes::standard_model(), {{bite, bite}});
    const auto of_bite = make_bite_loads(scenes::standard_model(), bite);
    const double apart = (loads.front()->load.edge_force - of_bite->load.edge_force).matrix().norm();
    CHECK(apart < 0.01 * of_bite->load.edge_force.matrix().norm());
}

TEST_CASE("run path: a bite bends its thread by a whole turn and the surface's curve, however it enters", "[closure]") {
    // Half a turn on each side: it comes along the surface, dips and goes the other way. The oblique lengths on the
    // surface add their arc, about 2 mm over 7.8.
    const SpanPath span = span_path(scenes::bite_at(90.0), scenes::bite_at(112.5), donor(), host());
    const double turning = span.turning_from + span.turning_to;
    CHECK(turning > 2.0 * kPi - 0.1);
    CHECK(turning < 2.0 * kPi + 0.6);
    BiteGeometry flat = scenes::bite_at(90.0), next = scenes::bite_at(112.5);
    flat.donor_entry = flat.host_exit = next.donor_entry = next.host_exit = 0.1;
    const SpanPath straight = span_path(flat, next, donor(), host());
    CHECK_THAT(straight.turning_from + straight.turning_to, WithinRel(turning, 0.05));
}

TEST_CASE("run path: on the mirror side a span is the mirror image", "[closure]") {
    const SpanPath span = span_path(crooked_bite(90.0), crooked_bite(120.0), donor(), host());
    const auto mirrored = [](BiteGeometry bite) {
        bite.donor_theta = kPi - bite.donor_theta;
        bite.host_theta = kPi - bite.host_theta;
        bite.donor_skew *= -1.0;
        bite.host_skew *= -1.0;
        return bite;
    };
    const SpanPath other = span_path(mirrored(crooked_bite(90.0)), mirrored(crooked_bite(120.0)), donor(), host());
    CHECK_THAT(other.path.length, WithinRel(span.path.length, 1e-12));
    CHECK_THAT(other.obliquity, WithinRel(span.obliquity, 1e-9));
    CHECK_THAT(std::remainder(other.crossing_theta - (kPi - span.crossing_theta), 2.0 * kPi), WithinAbs(0.0, 1e-9));
    CHECK_THAT(other.turning_from, WithinRel(span.turning_from, 1e-9));
}
