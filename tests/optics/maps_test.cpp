#include "optics/maps.h"

#include <cmath>
#include <memory>

#include <catch2/catch.hpp>

#include "../scenes/test_surfaces.h"
#include "base/units.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// Closed forms on both sides: rounding only.
constexpr double kRounding = 1e-12;

void check_derivatives(const AnteriorSurface& surface, double x, double y) {
    // Central differences: error step²/6 x third derivative (about 1e-9 here) plus rounding of the
    // heights over step (1e-12) and of the slopes.
    constexpr double kStep = 1e-4, kTolerance = 1e-8;
    const SurfaceSample here = surface.sample(x, y);
    const SurfaceSample east = surface.sample(x + kStep, y), west = surface.sample(x - kStep, y);
    const SurfaceSample north = surface.sample(x, y + kStep), south = surface.sample(x, y - kStep);
    INFO("at " << x << ", " << y);
    CHECK_THAT(here.slope_x, WithinAbs((east.height - west.height) / (2 * kStep), kTolerance));
    CHECK_THAT(here.slope_y, WithinAbs((north.height - south.height) / (2 * kStep), kTolerance));
    CHECK_THAT(here.curv_xx, WithinAbs((east.slope_x - west.slope_x) / (2 * kStep), kTolerance));
    CHECK_THAT(here.curv_yy, WithinAbs((north.slope_y - south.slope_y) / (2 * kStep), kTolerance));
    CHECK_THAT(here.curv_xy, WithinAbs((north.slope_x - south.slope_x) / (2 * kStep), kTolerance));
    CHECK_THAT(here.curv_xy, WithinAbs((east.slope_y - west.slope_y) / (2 * kStep), kTolerance));
}

// ∫0^x Km dx / x along a meridian by Simpson's rule.
double mean_tangential_D(const AnteriorSurface& surface, double rho, double angle) {
    constexpr int kIntervals = 200;
    double sum = 0;
    for (int i = 0; i <= kIntervals; ++i) {
        const double weight = (i == 0 || i == kIntervals) ? 1 : (i % 2 == 1 ? 4 : 2);
        sum += weight * tangential_power_D(surface, rho * i / kIntervals, angle);
    }
    return sum / (3 * kIntervals);
}

}  // namespace

TEST_CASE("test surfaces: their derivatives are those of their heights", "[optics][handbook]") {
    const scenes::Torus torus(7.3, 8.1, 35);
    const scenes::Conicoid conicoid(7.8, -0.25);
    const scenes::WithBumps bumpy(std::make_shared<scenes::Sphere>(7.8), 2.0,
                                  {{3, 1, 1.0}, {3, -3, 2.0}, {4, 2, -1.5}, {6, 0, 0.5}, {5, -1, 1}});
    for (double angle = 0.1; angle < 6.2; angle += 0.7) {
        check_derivatives(torus, 2.1 * std::cos(angle), 2.1 * std::sin(angle));
        check_derivatives(conicoid, 2.1 * std::cos(angle), 2.1 * std::sin(angle));
        check_derivatives(bumpy, 1.3 * std::cos(angle), 1.3 * std::sin(angle));
    }
}

// 337.5 / r: ISO 10343:2014 quoting ISO 19980:2012 (seen). Radii: ISO 10343's three test spheres
// (<= 6.8, 7.5-8.1, >= 9.1 mm; seen, inequality signs interpreted).
TEST_CASE("maps: axial and tangential power are 337.5/r everywhere on the three test spheres", "[optics][standard]") {
    const double radius = GENERATE(6.8, 7.8, 9.1);
    const scenes::Sphere sphere(radius);
    const double expected_D = 337.5 / radius;
    for (const MapPoint& point : square_power_map(sphere, 4.0, 17).points) {
        if (std::hypot(point.x_mm, point.y_mm) > 4.0 + 1e-9) continue;
        REQUIRE(point.axial_D);
        REQUIRE(point.tangential_D);
        CHECK_THAT(*point.axial_D, WithinRel(expected_D, kRounding));
        CHECK_THAT(*point.tangential_D, WithinRel(expected_D, kRounding));
    }
}

TEST_CASE("maps: the keratometric constant reads 45 D at 7.5 mm and 42.1875 D at 8 mm", "[optics][standard]") {
    CHECK_THAT(axial_power_D(scenes::Sphere(7.5), 1.5, 0.3), WithinAbs(45.0, 1e-10));
    CHECK_THAT(axial_power_D(scenes::Sphere(7.8), 1.5, 0.3), WithinAbs(43.2692, 5.1e-5));
    CHECK_THAT(axial_power_D(scenes::Sphere(8.0), 1.5, 0.3), WithinAbs(42.1875, 1e-10));
}

// ra = √(r0² - Q y²), rt = ra³/r0² (conic geometry, from memory; numbers calculated).
TEST_CASE("maps: a conic of r0 7.8 and Q -0.25 reads 42.491 D axial, 40.975 D tangential at 3 mm",
          "[optics][handbook]") {
    const scenes::Conicoid conicoid(7.8, -0.25);
    constexpr double kThreeDecimals = 5.1e-4, kFourDecimals = 5.1e-5;
    for (double angle = 0; angle < 6; angle += 1.1) {
        const double axial_D = axial_power_D(conicoid, 3.0, angle);
        const double tangential_D = tangential_power_D(conicoid, 3.0, angle);
        CHECK_THAT(axial_D, WithinAbs(42.491, kThreeDecimals));
        CHECK_THAT(tangential_D, WithinAbs(40.975, kThreeDecimals));
        CHECK_THAT(337.5 / axial_D, WithinAbs(7.9429, kFourDecimals));
        CHECK_THAT(337.5 / tangential_D, WithinAbs(8.2367, kFourDecimals));
        const double ra = std::sqrt(7.8 * 7.8 + 0.25 * 9.0);
        CHECK_THAT(axial_D, WithinRel(337.5 / ra, kRounding));
        CHECK_THAT(tangential_D, WithinRel(337.5 * 7.8 * 7.8 / (ra * ra * ra), kRounding));
        CHECK_THAT(axial_power_D(conicoid, 0.0, angle), WithinAbs(43.269, kThreeDecimals));
        CHECK_THAT(tangential_power_D(conicoid, 0.0, angle), WithinAbs(43.269, kThreeDecimals));
    }
}

// ISO 19980 / Klein, from memory (high confidence): Ka(x) = (1/x) ∫0^x Km dx, Km = d(x Ka)/dx.
TEST_CASE("maps: tangential power is the derivative of rho times axial power, on any surface", "[optics][handbook]") {
    const scenes::Conicoid conicoid(7.8, -0.25);
    const scenes::Torus torus(7.3, 8.1, 35);
    const scenes::WithBumps bumpy(std::make_shared<scenes::Sphere>(7.8), 3.0, {{4, 2, 4.0}, {6, 0, 3.0}, {4, -4, 5.0}});
    const AnteriorSurface* surfaces[] = {&conicoid, &torus, &bumpy};
    // Simpson's rule on 200 intervals and a central difference over 2e-4 mm, both of smooth
    // functions of size 40 D: errors under 1e-6 D.
    constexpr double kNumerical = 1e-6, kStep = 1e-4;
    for (const AnteriorSurface* surface : surfaces) {
        for (double angle = 0.2; angle < 6.2; angle += 0.9) {
            const double rho = 2.4;
            CHECK_THAT(axial_power_D(*surface, rho, angle),
                       WithinAbs(mean_tangential_D(*surface, rho, angle), kNumerical));
            const double outer = (rho + kStep) * axial_power_D(*surface, rho + kStep, angle);
            const double inner = (rho - kStep) * axial_power_D(*surface, rho - kStep, angle);
            CHECK_THAT(tangential_power_D(*surface, rho, angle), WithinAbs((outer - inner) / (2 * kStep), kNumerical));
        }
    }
}

TEST_CASE("maps: places beyond the surface or the circle hold no value, never a NaN", "[optics][handbook]") {
    const scenes::CutOff cut(std::make_shared<scenes::Sphere>(7.8), 2.0);
    for (const MapPoint& point : square_power_map(cut, 4.0, 17).points) {
        const bool covered = std::hypot(point.x_mm, point.y_mm) <= 2.0 + 1e-9;
        CHECK(point.axial_D.has_value() == covered);
        CHECK(point.tangential_D.has_value() == covered);
    }
    const PowerMap square = square_power_map(scenes::Sphere(7.8), 4.0, 41);
    CHECK_FALSE(square.at(0, 0).axial_D);
    CHECK(square.at(20, 20).axial_D);
    CHECK(square.at(20, 0).x_mm == Approx(-4.0));
    CHECK(square.at(0, 20).y_mm == Approx(-4.0));
    for (const MapPoint& point : square.points) {
        CHECK(point.axial_D.has_value() == (std::hypot(point.x_mm, point.y_mm) <= 4.0 + 1e-9));
        if (point.axial_D) CHECK(std::isfinite(*point.axial_D));
    }
}

TEST_CASE("maps: at the vertex of a torus a square map shows the mean of all meridians", "[optics][handbook]") {
    const scenes::Torus torus(7.5, 8.0, 90);
    const double mean_D = (337.5 / 7.5 + 337.5 / 8.0) / 2;
    CHECK_THAT(*square_power_map(torus, 2.0, 5).at(2, 2).axial_D, WithinRel(mean_D, kRounding));
}
