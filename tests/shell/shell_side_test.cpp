#include "shell/shell_side.h"

#include <array>
#include <cmath>
#include <random>
#include <utility>
#include <vector>

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <catch2/catch.hpp>

#include "base/units.h"
#include "shell_cases.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// Motions without energy of the whole side: eigenvalues of the stiffness scaled to a unit diagonal.
int free_motions(const ShellSide& side, int m) {
    const Eigen::MatrixXd k = side.stiffness(m, 0.0).dense(0);
    const Eigen::VectorXd scale = k.diagonal().cwiseSqrt().cwiseInverse();
    const Eigen::VectorXd values =
        Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(scale.asDiagonal() * k * scale.asDiagonal()).eigenvalues();
    REQUIRE(values[0] > -1e-12);
    // Nothing between: what costs energy costs 1e-5 of the stiffest at least.
    int count = 0;
    for (const double value : values) {
        CHECK((value < 1e-10 || value > 1e-6));
        count += value < 1e-10 ? 1 : 0;
    }
    return count;
}

// The ring's (u, v, w, b_s) when the donor moves as a body; family A of m = 1 moves along x or turns about y,
// family B moves along y or turns about −x. Turns are about the sphere's centre.
struct BodyMotion {
    const char* name;
    int m;
    Family family;
    bool turn;
    Eigen::Vector3d axis;
};

Eigen::Vector4d ring_of(const BodyMotion& motion, double alpha, double R) {
    const double s = std::sin(alpha), c = std::cos(alpha);
    if (motion.m == 0) return motion.turn ? Eigen::Vector4d(0.0, R * s, 0.0, 0.0) : Eigen::Vector4d(-s, 0.0, c, 0.0);
    return motion.turn ? Eigen::Vector4d(R, -R * c, 0.0, 1.0) : Eigen::Vector4d(c, -1.0, s, 0.0);
}

Eigen::VectorXd random_solution(const ShellSide& side, int m, unsigned seed) {
    std::mt19937 generator(seed);
    std::uniform_real_distribution<double> entry(-1.0, 1.0);
    Eigen::VectorXd x = scenes::no_load(side, m);
    for (double& value : x) value = entry(generator);
    return x;
}

// Work of a force on a displacement field of harmonic m, from the definition: a fibre at (s, θ) moves by
// (u + z b_s, v + z b_θ, w), and w also by what the squeezed wall gives,
//   −ν/(1−ν) [(ε_s+ε_θ) z + (χ_s+χ_θ) ½ (z² − t²/20)].
double work(const ShellSide& side, int m, Family family, const PointForce& force, const Eigen::VectorXd& x) {
    const FieldAmplitudes f = side.fields(m, force.s, x);
    const ShellElement& element = side.meridian().element_holding(force.s);
    const double alpha = element.alpha_at(force.s), R = element.radius, r = R * std::sin(alpha), z = force.z;
    const double t = element.thickness, nu = side.poisson_ratio();
    const double c = std::cos(alpha);
    const double stretch = f.slope[0] + f.value[2] / R + (c * f.value[0] + m * f.value[1]) / r + f.value[2] / R;
    const double bend = f.slope[3] + (c * f.value[3] + m * f.value[4]) / r;
    const double squeeze = -nu / (1.0 - nu) * (stretch * z + bend * 0.5 * (z * z - t * t / 20.0));
    double even = 1.0, odd = 1.0;
    if (m > 0) {
        const double phase = m * force.theta;
        even = family == Family::A ? std::cos(phase) : std::sin(phase);
        odd = family == Family::A ? std::sin(phase) : -std::cos(phase);
    }
    return force.along_meridian * even * (f.value[0] + z * f.value[3]) +
           force.along_circumference * odd * (f.value[1] + z * f.value[4]) +
           force.along_normal * even * (f.value[2] + squeeze);
}

}  // namespace

// Statics: a free body in space has six motions; harmonic 0 holds the lift and the twist, harmonic 1 a translation
// and a tilt in each family, no higher one any.
TEST_CASE("donor: free, it has two motions in harmonics 0 and 1 and none beyond", "[shell][handbook]") {
    const EyeShape shape;
    const ShellSide donor(Meridian::donor(shape, {}), shape.poisson_ratio, true);
    CHECK(free_motions(donor, 0) == 2);
    CHECK(free_motions(donor, 1) == 2);
    for (int m : {2, 3, 4, 11}) CHECK(free_motions(donor, m) == 0);
}

TEST_CASE("host: held in the orbit, it has no free motion", "[shell][handbook]") {
    const EyeShape shape;
    const ShellSide host(Meridian::host(shape, {}), shape.poisson_ratio, true);
    for (int m : {0, 1, 2, 3}) CHECK(free_motions(host, m) == 0);
}

// Statics again: moved as a body, the donor's loads work as force times path and moment times angle.
TEST_CASE("donor: point forces load it with their resultant and moment in space", "[shell][handbook]") {
    const EyeShape shape;
    const ShellSide donor(Meridian::donor(shape, {}), shape.poisson_ratio, true);
    const double alpha = donor.meridian().wound_s() / shape.mid_radius;
    const std::array<BodyMotion, 6> motions = {{{"lift", 0, Family::A, false, Eigen::Vector3d::UnitZ()},
                                                {"twist", 0, Family::A, true, Eigen::Vector3d::UnitZ()},
                                                {"along x", 1, Family::A, false, Eigen::Vector3d::UnitX()},
                                                {"along y", 1, Family::B, false, Eigen::Vector3d::UnitY()},
                                                {"about y", 1, Family::A, true, Eigen::Vector3d::UnitY()},
                                                {"about x", 1, Family::B, true, -Eigen::Vector3d::UnitX()}}};
    PointForce force;
    force.s = GENERATE(0.9, 3.6);
    force.z = GENERATE(-0.2, 0.275);
    force.theta = 2.1;
    force.along_meridian = 0.7;
    force.along_circumference = -0.4;
    force.along_normal = 0.5;
    const Eigen::Vector3d place = donor.meridian().position(force.s, force.theta, force.z);
    const Eigen::Vector3d pull = donor.meridian().frame(force.s, force.theta) *
                                 Eigen::Vector3d(force.along_meridian, force.along_circumference, force.along_normal);
    for (const BodyMotion& motion : motions) {
        CAPTURE(motion.name, force.s, force.z);
        Eigen::VectorXd load = scenes::no_load(donor, motion.m);
        scenes::add_point_force(donor, motion.m, motion.family, force, load);
        // The interior follows its ring without any energy.
        const Eigen::Vector4d ring = ring_of(motion, alpha, shape.mid_radius);
        const scenes::CondensedHarmonic condensed(donor, motion.m, 0.0);
        CHECK((condensed.ring_stiffness() * ring).norm() < 1e-6);
        const Eigen::VectorXd moved = condensed.solution(ring, scenes::no_load(donor, motion.m));
        const double expected = motion.turn ? motion.axis.dot(place.cross(pull)) : motion.axis.dot(pull);
        CHECK_THAT(load.dot(moved), WithinAbs(expected, 1e-5));
    }
}

// The slope jumps there, so U and W of the two sides differ and the place in space must not; turns and v are shared.
TEST_CASE("host: rim and sclera move together at the limbus", "[shell][property]") {
    const EyeShape shape;
    const Meridian meridian = Meridian::host(shape, {});
    const ShellSide host(meridian, shape.poisson_ratio, true);
    const int rim = MeridianMesh{}.rim_elements - 1, m = GENERATE(0, 1, 4);
    const double limbus = meridian.elements()[static_cast<std::size_t>(rim)].s_end();
    const Eigen::VectorXd x = random_solution(host, m, 23);
    const FieldAmplitudes before = host.fields_in(rim, m, limbus, x), after = host.fields_in(rim + 1, m, limbus, x);
    // Away from the axis and up it, from the meridian's slope on either side.
    const auto in_space = [&](int element, const FieldAmplitudes& f) {
        const double alpha = meridian.elements()[static_cast<std::size_t>(element)].alpha_at(limbus);
        return Eigen::Vector2d(f.value[0] * std::cos(alpha) + f.value[2] * std::sin(alpha),
                               -f.value[0] * std::sin(alpha) + f.value[2] * std::cos(alpha));
    };
    CHECK((in_space(rim, before) - in_space(rim + 1, after)).norm() < 1e-12);
    for (std::size_t field : {std::size_t{1}, std::size_t{3}, std::size_t{4}}) {
        CHECK_THAT(after.value[field], WithinAbs(before.value[field], 1e-12));
    }
    CHECK(std::abs(after.value[0] - before.value[0]) > 1e-3);
}

// The load vector is the work's derivative by the unknowns; checked on fields that no equation has smoothed.
TEST_CASE("point force: its load works on any field as the force on the moving fibre", "[shell][property]") {
    const EyeShape shape;
    struct Case {
        int m;
        Family family;
    };
    const auto [m, family] = GENERATE(Case{0, Family::A}, Case{1, Family::A}, Case{1, Family::B}, Case{2, Family::A},
                                      Case{5, Family::B}, Case{40, Family::A}, Case{40, Family::B});
    std::mt19937 generator(7);
    std::uniform_real_distribution<double> part(-1.0, 1.0);
    for (const Meridian& meridian : {Meridian::donor(shape, {}), Meridian::host(shape, {})}) {
        const ShellSide side(meridian, shape.poisson_ratio, true);
        const Eigen::VectorXd x = random_solution(side, m, 19);
        const double outward = meridian.side() == WoundSide::host ? 1.0 : -1.0;
        for (double distance : {0.0, 0.03, 0.9, 2.0, 3.3}) {  // the last two of the host lie in the sclera
            PointForce force{meridian.wound_s() + outward * distance,
                             3.0 * part(generator),
                             0.3 * part(generator),
                             part(generator),
                             part(generator),
                             part(generator),
                             0.0};
            Eigen::VectorXd load = scenes::no_load(side, m);
            scenes::add_point_force(side, m, family, force, load);
            const double expected = work(side, m, family, force, x);
            CAPTURE(m, distance, force.z);
            CHECK_THAT(load.dot(x), WithinAbs(expected, 1e-10 * (1.0 + std::abs(expected))));
            CHECK(expected != 0.0);
        }
    }
}

TEST_CASE("point force: many at once load both families as each alone", "[shell][property]") {
    const EyeShape shape;
    const ShellSide host(Meridian::host(shape, {}), shape.poisson_ratio, true);
    const int m = GENERATE(0, 1, 6);
    const double wound = host.meridian().wound_s();
    // Angles and elements that stay, change and come back.
    std::vector<PointForce> forces;
    for (const auto& [distance, theta] : std::vector<std::pair<double, double>>{
             {1.0, 0.0}, {1.0, 0.7}, {0.1, 0.7}, {1.0, -2.0}, {2.6, 0.0}, {1.01, 0.7}}) {
        forces.push_back({wound + distance, theta, 0.1, 0.5, -0.3, 0.2, 0.15});
    }
    const PointLoads loads(host, forces);
    const int begin = loads.begin(m), size = host.map(m).size();
    CHECK(begin > 0);
    Eigen::Matrix2Xd tail = Eigen::Matrix2Xd::Zero(2, size - begin), together = Eigen::Matrix2Xd::Zero(2, size);
    loads.add(m, 0.5, tail);
    together.rightCols(size - begin) = tail;
    loads.add(m, 0.5, together);
    Eigen::VectorXd a = scenes::no_load(host, m), b = a;
    for (const PointForce& force : forces) {
        scenes::add_point_force(host, m, Family::A, force, a);
        if (m > 0) scenes::add_point_force(host, m, Family::B, force, b);
    }
    CHECK((together.row(0).transpose() - a).norm() <= 1e-13 * a.norm());
    CHECK((together.row(1).transpose() - b).norm() <= 1e-13 * a.norm());
    CHECK((together.row(1).norm() > 0.0) == (m > 0));
}

TEST_CASE("point force: spread, it is the mean of forces scattered by a Gaussian", "[shell][property]") {
    const EyeShape shape;
    const ShellSide donor(Meridian::donor(shape, {}), shape.poisson_ratio, true);
    const int m = GENERATE(0, 3, 16, 50);
    PointForce force{3.4, 0.6, 0.2, 1.0, 0.5, -0.3, 0.15};
    Eigen::VectorXd spread = scenes::no_load(donor, m), scattered = spread;
    scenes::add_point_force(donor, m, Family::A, force, spread);
    // σ along the circle of the mid-surface; the sum of a smooth Gaussian over ±6σ is exact to rounding.
    const double r = shape.mid_radius * std::sin(force.s / shape.mid_radius);
    const double step = 0.1;
    for (int i = -60; i <= 60; ++i) {
        const double x = step * i, weight = std::exp(-0.5 * x * x) * step / std::sqrt(2.0 * kPi);
        PointForce one = force;
        one.spread = 0.0;
        one.theta += x * force.spread / r;
        one.along_meridian *= weight;
        one.along_circumference *= weight;
        one.along_normal *= weight;
        scenes::add_point_force(donor, m, Family::A, one, scattered);
    }
    CHECK((spread - scattered).norm() <= 1e-8 * spread.norm());
    CHECK(spread.norm() > 0.0);
}

// The eye's own figure of convergence: the ring's stiffness at 15 mmHg, each entry against the geometric mean of its
// two diagonal ones. A harmonic counts by what a thread's footprint has of it, exp(−½ (mσ/a)²) with σ = 0.15 mm: the
// last ones only shape that footprint. Shell theory leaves out terms of t/R beside one; the mesh may add a tenth of
// that. And it converges: half the element length divides the energy's error by 2⁶ with cubics; at least 2⁴ is asked,
// as harmonics that die out within an element or two do not have it yet.
TEST_CASE("mesh: twice as many elements hardly change the wound's stiffness, and that change dies away",
          "[shell][property]") {
    const EyeShape shape;
    const auto mesh = [](int times) {
        MeridianMesh result;
        result.donor_elements *= times;
        result.rim_elements *= times;
        result.sclera_elements *= times;
        return result;
    };
    const auto ring = [&](WoundSide which, int m, int times) {
        const Meridian meridian =
            which == WoundSide::donor ? Meridian::donor(shape, mesh(times)) : Meridian::host(shape, mesh(times));
        const ShellSide side(meridian, shape.poisson_ratio, true);
        return scenes::CondensedHarmonic(side, m, mpa_from_mmhg(15.0)).ring_stiffness();
    };
    const double most = 0.1 * shape.donor_thickness / shape.mid_radius;
    for (const WoundSide which : {WoundSide::donor, WoundSide::host}) {
        for (const int m : {0, 1, 2, 4, 8, 16, 32, 64}) {
            const Eigen::Matrix4d coarse = ring(which, m, 1), fine = ring(which, m, 2), finest = ring(which, m, 4);
            const Eigen::Vector4d scale = finest.diagonal().cwiseSqrt().cwiseInverse();
            const auto apart = [&](const Eigen::Matrix4d& a, const Eigen::Matrix4d& b) {
                return (scale.asDiagonal() * (a - b) * scale.asDiagonal()).cwiseAbs().maxCoeff();
            };
            const double first = apart(coarse, fine), second = apart(fine, finest);
            const double blur = m * 0.15 / shape.wound_radius, footprint = std::exp(-0.5 * blur * blur);
            CAPTURE(which == WoundSide::donor, m, first, second, first / second, first * footprint, most);
            CHECK(first * footprint < most);
            CHECK(first > 16.0 * second);
        }
    }
}
