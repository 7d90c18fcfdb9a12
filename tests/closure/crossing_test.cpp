#include "closure/crossing.h"

#include <cmath>
#include <random>

#include <Eigen/Eigenvalues>
#include <catch2/catch.hpp>

#include "../scenes/closure_scenes.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double kTiny = 1e-6;  // step of the finite differences, mm

EndValues any_ends(unsigned seed, double size) {
    std::mt19937_64 engine(seed);
    std::normal_distribution<double> normal;
    EndValues ends;
    for (double& value : ends) value = size * normal(engine);
    return ends;
}

Eigen::Vector3d any_way(unsigned seed) {
    std::mt19937_64 engine(seed);
    std::normal_distribution<double> normal;
    return {0.1 + 0.3 * normal(engine), 0.5 * normal(engine), 0.2 * normal(engine)};
}

// A crossing between edges that just touch: no interference.
Crossing touching(const BiteGeometry& bite, const EyeShape& shape = scenes::standard_eye()) {
    WoundModelOptions options = scenes::with_harmonics(16);
    options.levels_mmHg = {0.0};
    const WoundModel model(shape, options);
    return bite_crossing(bite, model, WoundInterface(model, {}, Eigen::VectorXd::Zero(model.points())));
}

BiteGeometry oblique(double donor_deg, double host_deg) {
    BiteGeometry bite = scenes::bite_at(donor_deg);
    bite.host_theta = rad_from_deg(host_deg);
    return bite;
}

double gained(const Crossing& crossing, const EndValues& ends) {
    EndValues ignored;
    return crossing.elongation(ends, ignored);
}

// What a crossing adds to the loop's own forces leaves each side with this: (along the meridian, around, outward) of
// unit tension, at the host's end, both strands.
Eigen::Vector3d pull_on_host(const Crossing& crossing) {
    EndValues gradient, own = EndValues::Zero();
    static_cast<void>(crossing.elongation(EndValues::Zero(), gradient));
    for (const CrossingStrand& strand : crossing.strands) own += strand.along;
    return (gradient + own).head<3>();
}

}  // namespace

TEST_CASE("crossing: a radial bite's strands add nothing until its edges slip or step", "[closure]") {
    const Crossing crossing = touching(scenes::bite_at(30.0));
    EndValues ends = EndValues::Zero(), gradient;
    CHECK_THAT(crossing.elongation(ends, gradient), WithinAbs(0.0, 1e-12));
    CHECK(gradient.norm() < 1e-12);
    ends[0] = 0.2;  // open, no longer beyond what the loop's own forces say
    CHECK_THAT(gained(crossing, ends), WithinAbs(0.0, 1e-12));
    // ℓ 0.3 with 0.4 across: 0.5. A slip bends both strands, a step the deep one alone.
    ends.setZero();
    ends[2] = 0.4;
    CHECK_THAT(gained(crossing, ends), WithinRel(0.2, 1e-12));
    ends.setZero();
    ends[1] = 0.4;
    CHECK_THAT(gained(crossing, ends), WithinRel(0.4, 1e-12));
    // The wider the gap, the less a slip adds: 0.3 + 0.1 with 0.3 across makes 0.5.
    ends[0] = 0.1;
    ends[1] = 0.3;
    CHECK_THAT(gained(crossing, ends), WithinRel(0.2, 1e-12));
}

TEST_CASE("crossing: unequal depths are a step before anything moves", "[closure]") {
    BiteGeometry bite = scenes::bite_at(30.0);
    bite.donor_depth = 0.5;
    bite.host_depth = 0.42;
    EyeShape shape = scenes::standard_eye();
    shape.rim_thickness = 0.65;
    // step = (d_g − d_h) − (t_g − t_h)/2: depths are from the front, middle surfaces meet.
    const double step = 0.08 + 0.05;
    CHECK_THAT(gained(touching(bite, shape), EndValues::Zero()), WithinRel(std::hypot(0.3, step) - 0.3, 1e-9));
}

TEST_CASE("crossing: strands pull with their tension in all, and what pulls sideways no longer pulls shut",
          "[closure]") {
    for (const double off_deg : {0.0, 3.0, 11.0, 25.0}) {
        const Crossing crossing = touching(oblique(270.0, 270.0 + off_deg));
        const Eigen::Vector3d pull = pull_on_host(crossing);
        CAPTURE(off_deg, pull);
        CHECK_THAT(pull.norm(), WithinRel(2.0, 0.02));  // two strands; at equal depths both lie alike
        // The straight way between places 4 mm from the axis, the host's end 0.3 mm farther out on average.
        const double a = scenes::standard_eye().wound_radius, turn = rad_from_deg(off_deg);
        const double sideways = a * std::sin(turn), shut = 0.3 + 0.5 * a * std::sin(turn) * std::sin(turn);
        CHECK_THAT(pull[1] / pull.norm(), WithinAbs(sideways / std::hypot(sideways, shut), 0.05));
    }
}

// Taut string: the forces on its two ends are opposite in space, whatever the local axes.
TEST_CASE("crossing: both ends are pulled alike and opposite in space", "[closure][handbook]") {
    const double donor_deg = 262.0, host_deg = 275.0;
    const Crossing crossing = touching(oblique(donor_deg, host_deg));
    EndValues gradient;
    static_cast<void>(crossing.elongation(EndValues::Zero(), gradient));
    for (const CrossingStrand& strand : crossing.strands) gradient += strand.along;
    const Meridian& meridian = scenes::standard_model().host().meridian();
    const auto in_space = [&](double deg, const Eigen::Vector3d& local) {
        return Eigen::Vector3d(meridian.frame(meridian.wound_s(), rad_from_deg(deg)) * local);
    };
    const Eigen::Vector3d on_host = in_space(host_deg, gradient.head<3>()),
                          on_donor = in_space(donor_deg, gradient.segment<3>(4));
    CHECK((on_host + on_donor).norm() < 1e-9);
    CHECK(on_host.norm() > 1.9);
}

TEST_CASE("crossing: its slope and its curvature are those of its elongation", "[closure][property]") {
    for (unsigned seed = 0; seed < 20; ++seed) {
        BiteGeometry bite = oblique(40.0, 40.0 + 3.0 * seed);
        bite.host_depth = 0.2;
        const Crossing crossing = touching(bite);
        const EndValues ends = any_ends(seed, 0.1), along = any_ends(seed + 100, 1.0);
        EndValues gradient, up, down;
        static_cast<void>(crossing.elongation(ends, gradient));
        const double slope =
            (crossing.elongation(ends + kTiny * along, up) - crossing.elongation(ends - kTiny * along, down)) /
            (2.0 * kTiny);
        CAPTURE(seed);
        CHECK_THAT(slope, WithinAbs(gradient.dot(along), 1e-8));
        const EndValues change = (up - down) / (2.0 * kTiny);
        CHECK((change - crossing.curvature(ends) * along).norm() < 1e-6 * (1.0 + change.norm()));
    }
}

TEST_CASE("crossing: a strand's length is convex and pulls no further where the edges are squashed past each other",
          "[closure][property]") {
    for (unsigned seed = 0; seed < 200; ++seed) {
        const Eigen::Vector3d a = any_way(seed), b = any_way(seed + 1000);
        CAPTURE(seed);
        CHECK(strand_length(0.5 * (a + b)).length <= 0.5 * (strand_length(a).length + strand_length(b).length) + 1e-14);
        const Eigen::Matrix3d curvature = strand_length(a).curvature;
        CHECK(Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(curvature).eigenvalues().minCoeff() >
              -1e-9 * curvature.norm());
        CHECK(strand_length(a).length >= kLeastCrossing);
    }
    // A donor 1 mm larger before anything gives way: g = −0.5.
    const StrandLength squashed = strand_length({kCrossingLength - 0.5, 0.1, 0.0});
    CHECK(squashed.gradient[0] == 0.0);
    CHECK(squashed.gradient.allFinite());
    CHECK_THAT(squashed.length, WithinRel(std::hypot(kLeastCrossing, 0.1), 1e-12));
    // Smooth where the law changes.
    for (const double y : {0.0, 2.0 * kLeastCrossing}) {
        const StrandLength below = strand_length({y - 1e-9, 0.05, 0.02}), above = strand_length({y + 1e-9, 0.05, 0.02});
        CHECK_THAT(above.length, WithinAbs(below.length, 1e-8));
        CHECK((above.gradient - below.gradient).norm() < 1e-6);
    }
}

// The Gaussian mean that a thread's force has, by points: a closed form by harmonics.
TEST_CASE("crossing: an end feels the edge as a Gaussian around it does", "[closure]") {
    const WoundModel& model = scenes::standard_model(64);
    const WoundInterface interface(model, {}, Eigen::VectorXd::Zero(model.points()));
    for (const double deg : {0.0, 0.3, 90.0, 359.9, -41.0, 725.0}) {
        const Crossing crossing = bite_crossing(oblique(deg, deg + 4.0), model, interface);
        CAPTURE(deg);
        CHECK((crossing.donor.even - interface.even_row(rad_from_deg(deg), kThreadSpread)).norm() < 1e-9);
        CHECK((crossing.host.odd - interface.odd_row(rad_from_deg(deg + 4.0), kThreadSpread)).norm() < 1e-9);
    }
}

TEST_CASE("crossing: by points and by harmonics it says the same", "[closure]") {
    const WoundModel& model = scenes::standard_model();
    const WoundInterface interface = scenes::standard_interface();
    const Crossing crossing = bite_crossing(oblique(100.0, 108.0), model, interface);
    RingMatrix edges(kRingUnknowns, 2 * model.columns());
    std::mt19937_64 engine(3);
    std::normal_distribution<double> normal;
    for (double& value : edges.reshaped()) value = normal(engine);
    const EndValues ends = crossing.ends(interface.edges_at_points(edges)), forces = any_ends(4, 1.0);
    RingMatrix pulled = RingMatrix::Zero(kRingUnknowns, edges.cols());
    crossing.add_to_edges(forces, pulled);
    CHECK_THAT(pulled.cwiseProduct(edges).sum(), WithinRel(forces.dot(ends), 1e-11));
    RingMatrix on_points = RingMatrix::Zero(kRingUnknowns, 2 * model.points());
    crossing.add_to_points(forces, on_points);
    CHECK_THAT(on_points.cwiseProduct(interface.edges_at_points(edges)).sum(), WithinRel(forces.dot(ends), 1e-11));
}
