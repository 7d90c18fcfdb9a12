// Circular plates: caps of a sphere so large (10⁷ mm) that its curvature carries less than a millionth.
#include <cmath>

#include <Eigen/LU>
#include <catch2/catch.hpp>

#include "base/units.h"
#include "shell_cases.h"

using namespace graftwright;
using Catch::Matchers::WithinRel;
using scenes::Cap;

namespace {

constexpr double kFlatRadius = 1e7;

Cap plate(double radius, double thickness, double modulus, double nu, int elements) {
    return {kFlatRadius, thickness, modulus, nu, std::asin(radius / kFlatRadius), elements};
}

enum class Edge { clamped, simply_supported };

// Deflection of the middle. A simply supported edge is free to turn and to move in the plane.
double deflection(const ShellSide& side, const Eigen::VectorXd& load, Edge edge, double pressure = 0.0) {
    const scenes::CondensedHarmonic condensed(side, 0, pressure);
    Eigen::Vector4d ring = Eigen::Vector4d::Zero();
    if (edge == Edge::simply_supported) {
        const Eigen::Matrix4d k = condensed.ring_stiffness();
        Eigen::Matrix2d free;
        free << k(0, 0), k(0, 3), k(3, 0), k(3, 3);
        const Eigen::Vector4d f = condensed.ring_load(load);
        const Eigen::Vector2d moved = free.inverse() * Eigen::Vector2d(f[0], f[3]);
        ring << moved[0], 0.0, 0.0, moved[1];
    }
    return side.fields(0, 0.0, condensed.solution(ring, load)).value[2];
}

}  // namespace

// T10-05 (SEEN; Civil Engineering Handbook, 2nd ed., eq. 47.72-47.76): clamped q a⁴/64D, simply supported times
// (5+ν)/(1+ν). E 200 GPa, t 10, a 250, ν 0.3, q 0.1 MPa: 0.333252 and 1.358643 mm. Shear adds q a²/(4·(5/6)Gt) to both,
// exactly (Reissner–Mindlin, derived: the shear force is qr/2). The free edge also lets go the moment by which pressure
// on one face bends the wall, ν/(1−ν) q t²/12: it takes that times a²/2D(1+ν) away (derived likewise).
TEST_CASE("plate: a uniform load bends clamped and supported plates by the handbook's amount", "[shell][handbook]") {
    const double a = 250.0, t = 10.0, q = 0.1, nu = 0.3;
    const Cap cap = plate(a, t, 200e3, nu, 28);
    const ShellSide side = cap.side();
    const Eigen::VectorXd load = q * side.pressure_load();
    const double shear = q * a * a / (4.0 * 5.0 / 6.0 * cap.shear_modulus() * t);
    const double squeeze = nu / (1.0 - nu) * q * t * t / 12.0 * a * a / (2.0 * cap.bending() * (1.0 + nu));
    CHECK(shear < 0.01 * 0.333252);  // (t/a)² = 0.0016 times 4.6
    CHECK_THAT(deflection(side, load, Edge::clamped) - shear, WithinRel(0.333252, 1e-5));
    CHECK_THAT(deflection(side, load, Edge::simply_supported) - shear + squeeze, WithinRel(1.358643, 1e-5));
}

// T10-06 (values SEEN in a worked spreadsheet): clamped W a²/16πD, simply supported times (3+ν)/(1+ν). a 150, t 1.5,
// E 200 GPa, ν 0.29, W 314.16 N: 2.290 and 5.840 mm. The force stands on a circle of b = 0.5 mm; shear adds
// W ln(a/b)/(2π(5/6)Gt), 0.1 %: 0.2 % allows for it.
TEST_CASE("plate: a central load bends clamped and supported plates by the handbook's amount", "[shell][handbook]") {
    const ShellSide side = plate(150.0, 1.5, 200e3, 0.29, 100).side();
    PointForce force;
    force.s = 0.5;
    force.along_normal = 314.16;
    Eigen::VectorXd load = scenes::no_load(side, 0);
    scenes::add_point_force(side, 0, Family::A, force, load);
    CHECK_THAT(deflection(side, load, Edge::clamped), WithinRel(2.290, 0.002));
    CHECK_THAT(deflection(side, load, Edge::simply_supported), WithinRel(5.840, 0.002));
}

// Load on a circle of radius b (Timoshenko & Woinowsky-Krieger, art. 17, from memory), clamped:
//   w(0) = W/8πD [(a²−b²)/2 − b² ln(a/b)] + the shear of the line above, exactly.
TEST_CASE("plate: a load on a circle is met closely, its shear included", "[shell][handbook]") {
    const double a = 150.0, b = 15.0, W = 314.16;
    const Cap cap = plate(a, 1.5, 200e3, 0.29, 100);
    const ShellSide side = cap.side();
    PointForce force;
    force.s = b;
    force.along_normal = W;
    Eigen::VectorXd load = scenes::no_load(side, 0);
    scenes::add_point_force(side, 0, Family::A, force, load);
    const double bending = W / (8.0 * kPi * cap.bending()) * (0.5 * (a * a - b * b) - b * b * std::log(a / b));
    const double shear = W / (2.0 * kPi * 5.0 / 6.0 * cap.shear_modulus() * 1.5) * std::log(a / b);
    // 5e-5: the circle lies inside an element whose cubics hold no jump of the shear force.
    CHECK_THAT(deflection(side, load, Edge::clamped), WithinRel(bending + shear, 5e-5));
}

// In the flat limit N = pR/2 with p → 0 is a plate under even tension and the follower terms vanish. Clamped, with
// k² = N a²/D (derived from D∇⁴w − N∇²w = q; I₀, I₁ modified Bessel functions):
//   w(0) = q a²/4N − q a²/(2N k I₁(k)) · (I₀(k) − 1).
// 1e-3: shear, (t/a)² times 4.5 = 4.5e-4. At k = 1 tension takes 6 % off the deflection, at k = 10 seven eighths.
TEST_CASE("plate: tension by pressure stiffens a clamped plate as the closed form says", "[shell][handbook]") {
    const double k = GENERATE(1.0, 3.0, 10.0);
    CAPTURE(k);
    const double a = 150.0, q = 1e-3;
    const Cap cap = plate(a, 1.5, 200e3, 0.29, 28);
    const double N = cap.bending() * k * k / (a * a);
    const ShellSide side = cap.side();
    const double expected = q * a * a / (4.0 * N) -
                            q * a * a / (2.0 * N * k * std::cyl_bessel_i(1.0, k)) * (std::cyl_bessel_i(0.0, k) - 1.0);
    CHECK_THAT(deflection(side, q * side.pressure_load(), Edge::clamped, 2.0 * N / kFlatRadius),
               WithinRel(expected, 1e-3));
    // Without stiffening it is the handbook's plate again.
    const double unstiffened =
        deflection(cap.side(false), q * side.pressure_load(), Edge::clamped, 2.0 * N / kFlatRadius);
    CHECK_THAT(unstiffened, WithinRel(q * std::pow(a, 4) / (64.0 * cap.bending()), 1e-3));
}
