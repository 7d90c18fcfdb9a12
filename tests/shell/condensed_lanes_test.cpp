#include "shell/condensed_lanes.h"

#include <Eigen/Cholesky>
#include <catch2/catch.hpp>

#include "base/units.h"
#include "shell_cases.h"

using namespace graftwright;
using Catch::Matchers::WithinRel;

namespace {

PointForce force_at(double s) {
    PointForce force;
    force.s = s;
    force.theta = 0.4;
    force.z = 0.2;
    force.along_meridian = 1.0;
    force.along_circumference = -0.4;
    force.along_normal = 0.3;
    force.spread = 0.15;
    return force;
}

}  // namespace

// The second method: all unknowns at once, dense.
TEST_CASE("condensed side: eliminating the interior changes no answer", "[shell][reference]") {
    const EyeShape shape;
    const ShellSide host(Meridian::host(shape, {}), shape.poisson_ratio, true);
    const int m = GENERATE(0, 1, 2, 7, 30);
    const double p = mpa_from_mmhg(15.0);
    CAPTURE(m);
    Eigen::VectorXd load = scenes::no_load(host, m);
    scenes::add_point_force(host, m, Family::A, force_at(host.meridian().wound_s() + 0.05), load);
    scenes::add_point_force(host, m, Family::A, force_at(host.meridian().wound_s() + 1.1), load);
    const Eigen::VectorXd expected = host.stiffness(m, p).dense(0).llt().solve(load);

    const scenes::CondensedHarmonic condensed(host, m, p);
    const Eigen::Vector4d ring = condensed.ring_stiffness().llt().solve(condensed.ring_load(load));
    const Eigen::VectorXd moved = condensed.solution(ring, load);
    CHECK((ring - expected.tail<kRingUnknowns>()).norm() <= 1e-8 * ring.norm());
    CHECK((moved - expected).norm() <= 1e-8 * expected.norm());
}

// Maxwell and Betti, and the short cut to a compliance: fᵀ K⁻¹ g by two forward substitutions.
TEST_CASE("condensed side: each of two loads moves the other's place by the same", "[shell][handbook]") {
    const EyeShape shape;
    const int m = GENERATE(0, 1, 3, 20);
    CAPTURE(m);
    for (const Meridian& meridian : {Meridian::donor(shape, {}), Meridian::host(shape, {})}) {
        const ShellSide side(meridian, shape.poisson_ratio, true);
        const double outward = meridian.side() == WoundSide::host ? 1.0 : -1.0;
        Eigen::VectorXd f = scenes::no_load(side, m), g = scenes::no_load(side, m);
        scenes::add_point_force(side, m, Family::A, force_at(meridian.wound_s() + outward * 0.3), f);
        scenes::add_point_force(side, m, Family::A, force_at(meridian.wound_s() + outward * 1.2), g);
        const scenes::CondensedHarmonic condensed(side, m, mpa_from_mmhg(15.0));
        const double g_by_f = g.dot(condensed.solution(Eigen::Vector4d::Zero(), f));
        const double f_by_g = f.dot(condensed.solution(Eigen::Vector4d::Zero(), g));
        CHECK(g_by_f != 0.0);
        CHECK_THAT(g_by_f, WithinRel(f_by_g, 1e-8));
        const double short_cut = condensed.compliance(f, g);
        CHECK_THAT(short_cut, WithinRel(f_by_g, 1e-8));
    }
}

TEST_CASE("condensed side: six harmonics side by side are what each is alone, to the last bit", "[shell][property]") {
    const EyeShape shape;
    for (const Meridian& meridian : {Meridian::donor(shape, {}), Meridian::host(shape, {})}) {
        const ShellSide side(meridian, shape.poisson_ratio, true);
        LaneCases lanes;
        for (int lane = 0; lane < kLanes; ++lane) {
            lanes[static_cast<std::size_t>(lane)] = {3 + 2 * lane, mpa_from_mmhg(10.0 * lane)};
        }
        const CondensedLanes together(side, lanes);
        for (int lane = 0; lane < kLanes; ++lane) {
            const LaneCase& one = lanes[static_cast<std::size_t>(lane)];
            CAPTURE(one.m);
            CHECK(together.ring_stiffness(lane) ==
                  scenes::CondensedHarmonic(side, one.m, one.pressure).ring_stiffness());
        }
    }
}
