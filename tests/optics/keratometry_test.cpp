#include "optics/keratometry.h"

#include <cmath>
#include <memory>

#include <catch2/catch.hpp>

#include "../scenes/test_surfaces.h"
#include "base/units.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// Every meridian is an arc of a circle whose power is prescribed: axial power is P(φ) exactly,
// at every distance from the vertex. Keratometry reads slopes only, so curvatures stay zero.
class PrescribedPower : public AnteriorSurface {
  public:
    PrescribedPower(PowerVector power, double third_D, double fourth_D)
        : power_(power), third_D_(third_D), fourth_D_(fourth_D) {}

    [[nodiscard]] double radius_covered() const override { return 3.0; }
    [[nodiscard]] SurfaceSample sample(double x, double y) const override {
        const double rho = std::hypot(x, y), angle = std::atan2(y, x);
        const double k =
            (power_.along_D(deg_from_rad(angle)) + third_D_ * std::cos(3 * angle) + fourth_D_ * std::sin(4 * angle)) /
            kKeratometricDioptreMm;
        const double slope = -rho * k / std::sqrt(1 - rho * rho * k * k);
        SurfaceSample sample;
        sample.height = -rho * rho * k / (1 + std::sqrt(1 - rho * rho * k * k));
        // The slope across the meridian is left out: it must not matter.
        sample.slope_x = slope * std::cos(angle);
        sample.slope_y = slope * std::sin(angle);
        return sample;
    }

  private:
    PowerVector power_;
    double third_D_, fourth_D_;
};

}  // namespace

// 337.5 / r on ISO 10343's three test spheres (seen).
TEST_CASE("keratometry: the three test spheres read 337.5/r and no cylinder", "[optics][standard]") {
    const double radius = GENERATE(6.8, 7.8, 9.1);
    const std::optional<Keratometry> reading = read_keratometry(scenes::Sphere(radius));
    REQUIRE(reading);
    CHECK_THAT(reading->mean_D, WithinRel(337.5 / radius, 1e-12));
    CHECK_THAT(reading->cylinder_D, WithinAbs(0, 1e-11));
}

TEST_CASE("keratometry: a conic reads its axial power at half the ring's diameter", "[optics][handbook]") {
    const std::optional<Keratometry> reading = read_keratometry(scenes::Conicoid(7.8, -0.25));
    REQUIRE(reading);
    CHECK_THAT(reading->mean_D, WithinRel(337.5 / std::sqrt(7.8 * 7.8 + 0.25 * 1.5 * 1.5), 1e-12));
    CHECK_THAT(reading->cylinder_D, WithinAbs(0, 1e-11));
}

TEST_CASE("keratometry: a prescribed power vector comes back, higher harmonics left out", "[optics][handbook]") {
    for (double axis_deg = 0; axis_deg < 180; axis_deg += 22.5) {
        const PowerVector prescribed = scenes::vector_of_cornea({42.5, 5.0, axis_deg});
        const PrescribedPower surface(prescribed, 2.0, 1.0);
        const std::optional<Keratometry> reading = read_keratometry(surface);
        REQUIRE(reading);
        INFO("axis " << axis_deg);
        const PowerVector difference = reading->power - prescribed;
        CHECK_THAT(std::hypot(difference.M_D, difference.J0_D, difference.J45_D), WithinAbs(0, 1e-10));
        CHECK_THAT(reading->steep_D, WithinAbs(45.0, 1e-10));
        CHECK_THAT(reading->flat_D, WithinAbs(40.0, 1e-10));
        CHECK_THAT(reading->cylinder_D, WithinAbs(5.0, 1e-10));
        CHECK_THAT(reading->mean_D, WithinAbs(42.5, 1e-10));
        CHECK_THAT(scenes::axis_difference_deg(reading->steep_axis_deg, axis_deg), WithinAbs(0, 1e-9));
    }
}

// Simulated keratometry of a torus is its principal curvatures (topography manuals, from memory).
// Exactly so at the vertex. On the ring its axial power is, to first order in ΔK,
// K + ½ ΔK cos 2θ - ΔK (ρ/R)²/16 (1 - cos 4θ)  (by hand, from the torus's fourth-order terms):
// M reads 0.010 D low here, the cylinder is right. Second order in ΔK/K, 10 %, is left out.
TEST_CASE("keratometry: the steep axis of a torus is its meridian of smaller radius", "[optics][handbook]") {
    const double steep_D = 337.5 / 7.4, flat_D = 337.5 / 8.2;
    const double mean_D = (steep_D + flat_D) / 2, cylinder_D = steep_D - flat_D;
    const double ratio = 1.5 * mean_D / 337.5;
    constexpr double kSecondOrder_D = 0.0015;
    for (double axis_deg = 0; axis_deg < 180; axis_deg += 15) {
        const std::optional<Keratometry> reading = read_keratometry(scenes::Torus(7.4, 8.2, axis_deg));
        REQUIRE(reading);
        INFO("axis " << axis_deg);
        CHECK_THAT(scenes::axis_difference_deg(reading->steep_axis_deg, axis_deg), WithinAbs(0, 1e-8));
        CHECK_THAT(reading->mean_D - mean_D, WithinAbs(-cylinder_D * ratio * ratio / 16, kSecondOrder_D));
        CHECK_THAT(reading->cylinder_D, WithinAbs(cylinder_D, kSecondOrder_D));
    }
}

TEST_CASE("keratometry: a smaller ring on a torus closes in on its principal curvatures", "[optics][handbook]") {
    const scenes::Torus torus(7.4, 8.2, 30);
    const double exact_D = 337.5 / 7.4 - 337.5 / 8.2;
    const double at_3_mm = std::fabs(read_keratometry(torus, 3.0)->cylinder_D - exact_D);
    const double at_1_5_mm = std::fabs(read_keratometry(torus, 1.5)->cylinder_D - exact_D);
    const double at_0_1_mm = std::fabs(read_keratometry(torus, 0.1)->cylinder_D - exact_D);
    // The difference goes with the square of the diameter or faster.
    CHECK(at_1_5_mm < at_3_mm / 3.9);
    CHECK(at_0_1_mm < 1e-4);
}

TEST_CASE("keratometry: turning the cornea turns the axis and nothing else", "[optics][property]") {
    const std::optional<Keratometry> upright = read_keratometry(scenes::Torus(7.4, 8.2, 0));
    const std::optional<Keratometry> turned = read_keratometry(scenes::Torus(7.4, 8.2, 77));
    REQUIRE(upright);
    REQUIRE(turned);
    CHECK_THAT(turned->mean_D, WithinAbs(upright->mean_D, 1e-10));
    CHECK_THAT(turned->cylinder_D, WithinAbs(upright->cylinder_D, 1e-10));
    CHECK_THAT(scenes::axis_difference_deg(turned->steep_axis_deg, upright->steep_axis_deg), WithinAbs(77, 1e-8));
}

TEST_CASE("keratometry: a surface that ends inside the ring has no reading", "[optics][handbook]") {
    const scenes::CutOff cut(std::make_shared<scenes::Sphere>(7.8), 1.49);
    CHECK_FALSE(read_keratometry(cut));
    CHECK(read_keratometry(cut, 2.9));
}
