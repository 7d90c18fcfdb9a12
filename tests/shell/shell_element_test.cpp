#include "shell/shell_element.h"

#include <cmath>
#include <vector>

#include <Eigen/Eigenvalues>
#include <catch2/catch.hpp>

#include "base/units.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

ElementMatrix harmonic(const std::array<ElementMatrix, 3>& parts, int m) {
    return parts[0] + m * parts[1] + m * m * parts[2];
}

// Amplitudes of a motion and their derivatives by s, as functions of α on a sphere of radius R.
struct Motion {
    const char* name;
    int m, turn;  // turn: 1 for a rotation
    double (*value[kFields])(double alpha, double R);
    double (*slope[kFields])(double alpha, double R);
};

double zero(double, double) { return 0.0; }

// A rigid body's six motions, less the two that are others turned by 90°. Rotations are about the
// sphere's centre, u = ω × x, and the fibres turn along.
const std::vector<Motion> kRigidMotions = {
    {"lift",
     0,
     0,
     {[](double a, double) { return -std::sin(a); }, zero, [](double a, double) { return std::cos(a); }, zero, zero},
     {[](double a, double R) { return -std::cos(a) / R; }, zero, [](double a, double R) { return -std::sin(a) / R; },
      zero, zero}},
    {"twist",
     0,
     1,
     {zero, [](double a, double R) { return R * std::sin(a); }, zero, zero,
      [](double a, double) { return std::sin(a); }},
     {zero, [](double a, double) { return std::cos(a); }, zero, zero,
      [](double a, double R) { return std::cos(a) / R; }}},
    {"translation",
     1,
     0,
     {[](double a, double) { return std::cos(a); }, [](double, double) { return -1.0; },
      [](double a, double) { return std::sin(a); }, zero, zero},
     {[](double a, double R) { return -std::sin(a) / R; }, zero, [](double a, double R) { return std::cos(a) / R; },
      zero, zero}},
    {"tilt",
     1,
     1,
     {[](double, double R) { return R; }, [](double a, double R) { return -R * std::cos(a); }, zero,
      [](double, double) { return 1.0; }, [](double a, double) { return -std::cos(a); }},
     {zero, [](double a, double) { return std::sin(a); }, zero, zero,
      [](double a, double R) { return std::sin(a) / R; }}},
};

ElementVector nodal(const Motion& motion, const ShellElement& element) {
    ElementVector x;
    for (int end = 0; end < 2; ++end) {
        const double alpha = element.alpha_at(end == 0 ? element.s_begin : element.s_end());
        for (int field = 0; field < kFields; ++field) {
            x[10 * end + field] = motion.value[field](alpha, element.radius);
            x[10 * end + kFields + field] = motion.slope[field](alpha, element.radius);
        }
    }
    return x;
}

// Elements of one length from colatitude `begin` to `end`.
std::vector<ShellElement> sphere(int count, double begin, double end) {
    const double R = 7.6, length = R * (end - begin) / count;
    std::vector<ShellElement> elements;
    for (int i = 0; i < count; ++i) {
        elements.push_back({R * begin + i * length, length, begin + i * length / R, R, 0.55, 1.0});
    }
    return elements;
}

double energy(const std::vector<ShellElement>& elements, const Motion& motion, bool of_pressure) {
    double sum = 0.0;
    for (const ShellElement& element : elements) {
        const ElementStiffness stiffness = element_stiffness(element, 0.45);
        const ElementVector x = nodal(motion, element);
        sum += x.dot(harmonic(of_pressure ? stiffness.pressure : stiffness.elastic, motion.m) * x);
    }
    return sum;
}

}  // namespace

// Definition of the cubic Hermite basis.
TEST_CASE("element: Hermite functions reproduce every cubic and its derivatives", "[shell][handbook]") {
    const double h = 0.37;
    const auto cubic = [](double s) { return 1.5 - 2.0 * s + 0.7 * s * s + 3.0 * s * s * s; };
    const auto first = [](double s) { return -2.0 + 1.4 * s + 9.0 * s * s; };
    const auto second = [](double s) { return 1.4 + 18.0 * s; };
    const Eigen::Vector4d nodes(cubic(0), first(0), cubic(h), first(h));
    for (double x : {0.0, 0.21, 0.5, 0.83, 1.0}) {
        CHECK_THAT(hermite(x, h, 0).dot(nodes), WithinAbs(cubic(x * h), 1e-14));
        CHECK_THAT(hermite(x, h, 1).dot(nodes), WithinAbs(first(x * h), 1e-13));
        CHECK_THAT(hermite(x, h, 2).dot(nodes), WithinAbs(second(x * h), 1e-12));
    }
}

TEST_CASE("element: stiffness is symmetric and, without pressure, never negative", "[shell][property]") {
    const ShellElement element{2.0, 0.4, 2.0 / 7.6, 7.6, 0.55, 1.0};
    const ElementStiffness stiffness = element_stiffness(element, 0.45);
    for (int m : {0, 1, 2, 7, 40}) {
        const ElementMatrix elastic = harmonic(stiffness.elastic, m), pressure = harmonic(stiffness.pressure, m);
        CHECK((elastic - elastic.transpose()).norm() <= 1e-14 * elastic.norm());
        CHECK((pressure - pressure.transpose()).norm() <= 1e-14 * pressure.norm());
        const Eigen::VectorXd values = Eigen::SelfAdjointEigenSolver<ElementMatrix>(elastic).eigenvalues();
        CHECK(values[0] >= -1e-13 * values[kElementUnknowns - 1]);
    }
}

// A rigid motion strains nothing. Cubics do not hold sines exactly: the energy left over falls with the
// sixth power of the element's length, by 64 at each halving (strains are wrong by h³).
TEST_CASE("element: rigid motions cost nothing in the limit of small elements", "[shell][property]") {
    const double stretch = 1.0 * 0.55;  // E t: what a unit strain of a unit area costs, twice, within a factor
    for (const Motion& motion : kRigidMotions) {
        CAPTURE(motion.name);
        const double coarse = energy(sphere(8, 0.0, 0.9), motion, false);
        const double fine = energy(sphere(16, 0.0, 0.9), motion, false);
        CHECK(coarse < 1e-9 * stretch * 7.6 * 7.6);
        CHECK(coarse > 40.0 * fine);
    }
}

// Of the pressure's part of the stiffness
//   N(β_s² + β_θ² + 2φ²) − p[w(ε_s+ε_θ) + u β_s + v β_θ],   N = pR/2
// a translation leaves every term zero. A turn about the axis makes β_θ = sin α, φ = cos α, a turn about a
// horizontal axis β_s = 1, β_θ = −cos α, φ = sin α; integrated from the apex to α (by hand, here) both give
//   ± ½ p R³ cos α sin²α  for one radian,
// nothing for a complete sphere: under pressure it may turn as it likes. For a cap it is what the tension
// of the missing rest would do at the edge.
TEST_CASE("element: a complete sphere under pressure moves and turns freely", "[shell][handbook]") {
    const double R = 7.6, t = 0.55, inner_area = (1.0 - 0.5 * t / R) * (1.0 - 0.5 * t / R);
    const double turned = 0.5 * R * R * R * inner_area;  // per MPa
    const std::vector<ShellElement> whole = sphere(60, 0.0, kPi), cap = sphere(20, 0.0, kPi / 3.0);
    for (const Motion& motion : kRigidMotions) {
        CAPTURE(motion.name);
        CHECK(std::abs(energy(whole, motion, true)) < 1e-10 * turned);
        const double sign = motion.turn == 0 ? 0.0 : (motion.m == 0 ? 1.0 : -1.0);
        CHECK_THAT(energy(cap, motion, true), WithinAbs(sign * turned * 0.5 * 0.75, 1e-9 * turned));
    }
}

// The load's work on the sphere growing by a unit is p times the inner surface, less Poisson's squeeze:
// the wall's mean normal stress −p/2 stretches it sideways, ν/(1−ν) t/2 (ε_s + ε_θ) = ν/(1−ν) t/R.
TEST_CASE("element: pressure works on the inner surface and squeezes the wall", "[shell][handbook]") {
    const double R = 7.6, t = 0.55, nu = 0.45, begin = 0.2, end = 0.8;
    double work = 0.0;
    for (const ShellElement& element : sphere(6, begin, end)) {
        ElementVector growth = ElementVector::Zero();
        growth[2] = growth[12] = 1.0;  // w at both ends
        work += element_stiffness(element, nu).pressure_load.dot(growth);
    }
    const double area = R * R * (std::cos(begin) - std::cos(end));
    const double inner_area = (1.0 - 0.5 * t / R) * (1.0 - 0.5 * t / R);
    CHECK_THAT(work, WithinRel(area * (inner_area + nu / (1.0 - nu) * t / R), 1e-10));
}
