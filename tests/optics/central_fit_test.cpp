#include "optics/central_fit.h"

#include <cmath>
#include <memory>

#include <catch2/catch.hpp>

#include "../scenes/test_surfaces.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

CentralFit fit_of(const AnteriorSurface& surface, double radius, CentralForm form) {
    const std::optional<CentralFit> fit = fit_central_curvature(surface, radius, form);
    REQUIRE(fit);
    return *fit;
}

std::vector<SurfacePoint> grid_of(const AnteriorSurface& surface, double step) {
    std::vector<SurfacePoint> points;
    for (int i = -20; i <= 20; ++i) {
        for (int j = -20; j <= 20; ++j) {
            const double x = i * step, y = j * step;
            points.push_back({x, y, surface.sample(x, y).height, 1});
        }
    }
    return points;
}

}  // namespace

TEST_CASE("central fit: a paraboloid's own coefficients come back whatever the form", "[optics][handbook]") {
    // z = 0.1 + 0.02 x - ½ (0.130 x² + 2·0.004 x y + 0.125 y²): curvature +0.130 along x.
    std::vector<SurfacePoint> points;
    for (int i = -8; i <= 8; ++i) {
        for (int j = -8; j <= 8; ++j) {
            const double x = 0.2 * i, y = 0.2 * j;
            points.push_back({x, y, 0.1 + 0.02 * x - 0.5 * (0.130 * x * x + 0.008 * x * y + 0.125 * y * y), 1});
        }
    }
    for (const CentralForm form : {CentralForm::quadratic, CentralForm::with_quartic}) {
        const std::optional<CentralFit> fit = fit_central_curvature(points, 1.6, form);
        REQUIRE(fit);
        CHECK_THAT(fit->power.M_D, WithinAbs(337.5 * 0.1275, 1e-10));
        CHECK_THAT(fit->power.J0_D, WithinAbs(337.5 * 0.0025, 1e-10));
        CHECK_THAT(fit->power.J45_D, WithinAbs(337.5 * 0.004, 1e-10));
        CHECK_THAT(fit->residual_rms_um, WithinAbs(0, 1e-10));
    }
}

// The projections of ρ⁴ on (1, ρ²) and of ρ⁶ on (1, ρ², ρ⁴) over a disc, by hand:
// t² → t - 1/6 and t³ → 3/2 t² - 3/5 t + 1/20 with t = ρ²/ρ0². Next terms of the sphere's series
// are (ρ0/R)² smaller, 4 % here, times a factor of order one: a tenth is allowed for them.
TEST_CASE("central fit: on a sphere each form errs as its neglected power says", "[optics][handbook]") {
    const double radius = 7.875, disc = 1.6, exact_D = 337.5 / radius;
    const double ratio = disc / radius;
    const double quadratic_D = fit_of(scenes::Sphere(radius), disc, CentralForm::quadratic).mean_D - exact_D;
    const double quartic_D = fit_of(scenes::Sphere(radius), disc, CentralForm::with_quartic).mean_D - exact_D;
    CHECK_THAT(quadratic_D, WithinRel(exact_D * ratio * ratio / 4, 0.1));
    CHECK_THAT(quartic_D, WithinRel(-exact_D * 3 * std::pow(ratio, 4) / 40, 0.1));
    // In round figures +0.45 D and -0.006 D.
    CHECK_THAT(quadratic_D, WithinAbs(0.45, 0.01));
    CHECK_THAT(quartic_D, WithinAbs(-0.0055, 0.0010));
}

TEST_CASE("central fit: a sphere has no cylinder and a torus has its own, on its own axis", "[optics][handbook]") {
    CHECK_THAT(fit_of(scenes::Sphere(7.875), 1.6, CentralForm::with_quartic).cylinder_D, WithinAbs(0, 1e-9));
    const double exact_D = 337.5 / 7.5 - 337.5 / 8.0;
    for (double axis_deg = 0; axis_deg < 180; axis_deg += 15) {
        const scenes::Torus torus(7.5, 8.0, axis_deg);
        const CentralFit wide = fit_of(torus, 1.6, CentralForm::with_quartic);
        INFO("axis " << axis_deg);
        CHECK_THAT(scenes::axis_difference_deg(wide.steep_axis_deg, axis_deg), WithinAbs(0, 1e-7));
        // The torus's own 3/16 K² Δ ρ⁴ cos 2θ, which neither form holds, is read as cylinder:
        // 9/16 (ρ0/R)² of it, 2.4 %, and a tenth of that for what the series goes on with.
        const double share = 9.0 / 16 * (1.6 / 7.742) * (1.6 / 7.742);
        CHECK_THAT(wide.cylinder_D / exact_D - 1, WithinRel(share, 0.1));
        // Over a tenth of the disc a hundredth of that is left.
        CHECK_THAT(fit_of(torus, 0.16, CentralForm::with_quartic).cylinder_D / exact_D - 1,
                   WithinRel(share / 100, 0.1));
    }
}

// Best-fitting sphere and cylinder of the central 3 mm (Maloney, Bogan, Waring, AJO 1993;115:31,
// from memory): a noise-free torus returns its toric values.
TEST_CASE("central fit: the central 3 mm of a torus give its mean power", "[optics][published]") {
    const CentralFit fit = fit_of(scenes::Torus(7.5, 8.0, 20), 1.5, CentralForm::with_quartic);
    CHECK_THAT(fit.mean_D, WithinAbs((337.5 / 7.5 + 337.5 / 8.0) / 2, 0.02));
}

TEST_CASE("central fit: points of a square grid agree with the quadrature", "[optics][handbook]") {
    const scenes::Torus torus(7.5, 8.0, 60);
    const std::optional<CentralFit> grid = fit_central_curvature(grid_of(torus, 0.1), 1.6);
    REQUIRE(grid);
    const CentralFit disc = fit_of(torus, 1.6, CentralForm::full_quartic);
    // The grid's ragged edge changes what the neglected powers do: a tenth of their 0.1 D.
    CHECK_THAT(grid->mean_D, WithinAbs(disc.mean_D, 0.01));
    CHECK_THAT(grid->cylinder_D, WithinAbs(disc.cylinder_D, 0.01));
    CHECK_THAT(scenes::axis_difference_deg(grid->steep_axis_deg, disc.steep_axis_deg), WithinAbs(0, 0.2));
}

TEST_CASE("central fit: points that cannot carry the form give no figure", "[optics][handbook]") {
    std::vector<SurfacePoint> circle, line;
    for (int i = 0; i < 40; ++i) {
        const double angle = 0.157 * i;
        circle.push_back({std::cos(angle), std::sin(angle), -0.06, 1});
        line.push_back({0.03 * i, 0, 0, 1});
    }
    CHECK_FALSE(fit_central_curvature(circle, 1.6));
    CHECK_FALSE(fit_central_curvature(line, 1.6));
    CHECK_FALSE(fit_central_curvature(std::vector<SurfacePoint>{}, 1.6));
    CHECK_FALSE(fit_central_curvature(grid_of(scenes::Sphere(7.8), 0.1), 0.1));
    const scenes::CutOff cut(std::make_shared<scenes::Sphere>(7.8), 1.5);
    CHECK_FALSE(fit_central_curvature(cut, 1.6));
}
