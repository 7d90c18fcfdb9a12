#include "shell/shell_element.h"

#include <cmath>
#include <cstdio>
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
    int m;
    double (*value[kFields])(double alpha, double R);
    double (*slope[kFields])(double alpha, double R);
};

double zero(double, double) { return 0.0; }

// A rigid body's six motions, less the two that are others turned by 90°. Rotations are about the
// sphere's centre, u = ω × x, and the fibres turn along.
const std::vector<Motion> kRigidMotions = {
    {"lift", 0,
     {[](double a, double) { return -std::sin(a); }, zero, [](double a, double) { return std::cos(a); }, zero, zero},
     {[](double a, double R) { return -std::cos(a) / R; }, zero, [](double a, double R) { return -std::sin(a) / R; },
      zero, zero}},
    {"twist", 0,
     {zero, [](double a, double R) { return R * std::sin(a); }, zero, zero, [](double a, double) { return std::sin(a); }},
     {zero, [](double a, double) { return std::cos(a); }, zero, zero, [](double a, double R) { return std::cos(a) / R; }}},
    {"translation", 1,
     {[](double a, double) { return std::cos(a); }, [](double, double) { return -1.0; },
      [](double a, double) { return std::sin(a); }, zero, zero},
     {[](double a, double R) { return -std::sin(a) / R; }, zero, [](double a, double R) { return std::cos(a) / R; },
      zero, zero}},
    {"tilt", 1,
     {[](double, double R) { return R; }, [](double a, double R) { return -R * std::cos(a); }, zero,
      [](double, double) { return 1.0; }, [](double a, double) { return -std::cos(a); }},
     {zero, [](double a, double) { return std::sin(a); }, zero, zero, [](double a, double R) { return std::sin(a) / R; }}},
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
    for (const Motion& motion : kRigidMotions) {
        CAPTURE(motion.name);
        const double coarse = energy(sphere(8, 0.0, 0.9), motion, false);
        const double fine = energy(sphere(16, 0.0, 0.9), motion, false);
        printf("%s %.3e %.3e %.2f\n",motion.name,coarse,fine,coarse/fine);
    }
}

// A complete sphere under pressure may lie in space as it likes: its energy with the pressure's cannot
// depend on where it is or how it is turned. Of the pressure's part of the stiffness
//   N(β_s² + β_θ² + 2φ²) − p[w(ε_s+ε_θ) + u β_s + v β_θ],   N = pR/2
// translation leaves every term zero; for a rotation ω about a horizontal axis β_s = ω, β_θ = −ω cos α,
// φ = ω sin α and both halves are (8/3) p R³ ω² π: derived here by hand.
TEST_CASE("element: a complete sphere under pressure moves and turns freely", "[shell][handbook]") {
    const std::vector<ShellElement> whole = sphere(60, 0.0, kPi), cap = sphere(20, 0.0, kPi / 3.0);
    for (const Motion& motion : kRigidMotions) {
        CAPTURE(motion.name);
        printf("%s whole %.3e cap %.3e\n",motion.name,energy(whole, motion, true),energy(cap,motion,true));
    }
}
