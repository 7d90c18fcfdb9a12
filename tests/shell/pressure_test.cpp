// What chamber pressure does to a shell's stiffness: linear in p, tight when positive, buckling when negative.
#include <cmath>

#include <Eigen/Cholesky>
#include <catch2/catch.hpp>

#include "base/units.h"
#include "shell_cases.h"

using namespace graftwright;
using Catch::Matchers::WithinRel;
using scenes::Cap;

namespace {

// A hemisphere that meets its mirror image, harmonic 0: the edge may only move outward.
bool stable(const ShellSide& side, double pressure) {
    const Eigen::MatrixXd full = side.stiffness(0, pressure).dense(0);
    const Eigen::Index n = full.rows() - kRingUnknowns;
    Eigen::MatrixXd free(n + 1, n + 1);
    free.topLeftCorner(n, n) = full.topLeftCorner(n, n);
    free.topRightCorner(n, 1) = full.block(0, n + 2, n, 1);
    free.bottomLeftCorner(1, n) = full.block(n + 2, 0, 1, n);
    free(n, n) = full(n + 2, n + 2);
    return free.llt().info() == Eigen::Success;
}

}  // namespace

TEST_CASE("pressure: its part of the stiffness is proportional to it and can be switched off", "[shell][property]") {
    const EyeShape shape;
    const int m = GENERATE(0, 1, 2, 9);
    for (const Meridian& meridian : {Meridian::donor(shape, {}), Meridian::host(shape, {})}) {
        const ShellSide side(meridian, 0.45, true), without(meridian, 0.45, false);
        const double p = mpa_from_mmhg(15.0);
        const Eigen::MatrixXd k0 = side.stiffness(m, 0.0).dense(0), k1 = side.stiffness(m, p).dense(0),
                              k4 = side.stiffness(m, 4.0 * p).dense(0);
        CHECK((k4 - k0 - 4.0 * (k1 - k0)).norm() <= 1e-12 * k4.norm());
        CHECK((k1 - k0).norm() > 1e-4 * k0.norm());
        CHECK(without.stiffness(m, p).dense(0) == k0);
    }
}

// Buckling of a complete sphere under outer pressure (Zoelly 1915; Timoshenko & Gere, from memory):
//   p = 2E/√(3(1−ν²)) (t/R)².
// Our pressure acts on the inner surface, (1 − t/2R)² of it on the mid-surface. It holds N and the follower terms
// together: without the companions of N(β_s² + β_θ²) the sphere buckles elsewhere. Shear lowers it by about t/R, and
// a sphere has a whole number of waves: 1 % at R/t 100.
TEST_CASE("pressure: a sphere sucked empty buckles at Zoelly's pressure", "[shell][handbook]") {
    const double thinness = GENERATE(50.0, 100.0);
    CAPTURE(thinness);
    const Cap cap{100.0, 100.0 / thinness, 200e3, 0.3, 0.5 * kPi, 40};
    const ShellSide side = cap.side();
    const double zoelly = 2.0 * cap.modulus / std::sqrt(3.0 * (1.0 - 0.09)) / (thinness * thinness);
    const double inner_area = (1.0 - 0.5 / thinness) * (1.0 - 0.5 / thinness);
    double low = 0.0, high = 4.0 * zoelly;
    REQUIRE(stable(side, -low));
    REQUIRE_FALSE(stable(side, -high));
    for (int i = 0; i < 20; ++i) {
        const double middle = 0.5 * (low + high);
        (stable(side, -middle) ? low : high) = middle;
    }
    CHECK_THAT(low * inner_area, WithinRel(zoelly, 0.03));
}

// Sense of the effect, no published figure: mechanics' own 3-D solids lose a quarter of the cylinder to it.
TEST_CASE("pressure: the eye's edges resist bending the more the fuller it is", "[shell][property]") {
    const EyeShape shape;
    const int m = GENERATE(2, 3, 4, 8);
    for (const Meridian& meridian : {Meridian::donor(shape, {}), Meridian::host(shape, {})}) {
        const ShellSide side(meridian, 0.45, true);
        double before = 0.0;
        for (double p_mmHg : {0.0, 15.0, 60.0}) {
            const double k = scenes::CondensedHarmonic(side, m, mpa_from_mmhg(p_mmHg)).ring_stiffness()(2, 2);
            CHECK(k > before);
            before = k;
        }
    }
}
