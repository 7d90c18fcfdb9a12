// Corneal fronts with known optics, for the tests of the optics room and of whoever reads it.
//
// All are exact, derivatives included, and stand in the keratometer's frame (optics/surface.h):
// h <= 0, vertex at the origin. Lengths in mm, angles in rad unless named otherwise.
#pragma once

#include <cmath>
#include <memory>
#include <utility>
#include <vector>

#include "base/units.h"
#include "optics/power_vector.h"
#include "optics/surface.h"
#include "optics/zernike.h"

namespace graftwright::scenes {

// P(θ) of a cornea with these readings, a cylinder's steep meridian at steep_axis_deg.
[[nodiscard]] inline PowerVector vector_of_cornea(const CornealPower& power) {
    const double twice = 2.0 * rad_from_deg(power.steep_axis_deg), half_D = power.cylinder_D / 2.0;
    return {power.mean_D, half_D * std::cos(twice), half_D * std::sin(twice)};
}

// The turn from axis b to axis a the short way round, in [-90, 90]: 179 and 1 are 2 degrees apart.
[[nodiscard]] inline double axis_difference_deg(double a_deg, double b_deg) {
    return std::remainder(a_deg - b_deg, 180.0);
}

// A torus: circle of radius `steep_radius` turned about an axis so that the meridian across has
// radius `flat_radius`. Along its steep and flat meridians it is exactly those two circles; with
// both equal it is a sphere. With u along flat and v along steep,
//   g = flat - steep + √(steep² - v²),   h = √(g² - u²) - flat.
class Torus : public AnteriorSurface {
  public:
    Torus(double steep_radius, double flat_radius, double steep_axis_deg)
        : steep_(steep_radius), flat_(flat_radius), angle_(rad_from_deg(steep_axis_deg)) {}

    [[nodiscard]] double radius_covered() const override { return 0.9 * std::fmin(steep_, flat_); }
    [[nodiscard]] SurfaceSample sample(double x, double y) const override {
        const double c = std::cos(angle_), s = std::sin(angle_);
        const double v = c * x + s * y, u = -s * x + c * y;
        const double root = std::sqrt(steep_ * steep_ - v * v);
        const double g = flat_ - steep_ + root;
        const double g1 = -v / root, g2 = -steep_ * steep_ / (root * root * root);
        const double f = std::sqrt(g * g - u * u), f3 = f * f * f;
        const double hu = -u / f, hv = g * g1 / f;
        const double huu = -1 / f - u * u / f3, huv = u * g * g1 / f3;
        const double hvv = (g1 * g1 + g * g2) / f - g * g1 * g * g1 / f3;
        SurfaceSample sample;
        sample.height = f - flat_;
        sample.slope_x = c * hv - s * hu;
        sample.slope_y = s * hv + c * hu;
        sample.curv_xx = c * c * hvv - 2 * c * s * huv + s * s * huu;
        sample.curv_yy = s * s * hvv + 2 * c * s * huv + c * c * huu;
        sample.curv_xy = c * s * (hvv - huu) + (c * c - s * s) * huv;
        return sample;
    }

  private:
    double steep_, flat_, angle_;
};

class Sphere : public Torus {
  public:
    explicit Sphere(double radius) : Torus(radius, radius, 0) {}
};

// Conic of revolution, ρ² + (1 + Q) z² - 2 r0 z = 0 with z = -h: apical radius r0, asphericity Q
// (Q < 0 flattens outward, as corneas do).
//   z' = ρ / √(r0² - (1 + Q) ρ²),   z'' = r0² / (…)^(3/2)
class Conicoid : public AnteriorSurface {
  public:
    Conicoid(double apical_radius, double asphericity) : r0_(apical_radius), q_(asphericity) {}

    [[nodiscard]] double radius_covered() const override { return 0.9 * r0_; }
    [[nodiscard]] SurfaceSample sample(double x, double y) const override {
        const double squared = x * x + y * y;
        const double root = std::sqrt(r0_ * r0_ - (1 + q_) * squared);
        const double axial = -1 / root;  // h_ρ/ρ
        SurfaceSample sample;
        sample.height = -squared / (r0_ + root);
        sample.slope_x = axial * x;
        sample.slope_y = axial * y;
        // h_xx = h_ρρ cos² + (h_ρ/ρ) sin², written without a division by ρ.
        const double bend = -(1 + q_) / (root * root * root);  // (h_ρρ - h_ρ/ρ) / ρ²
        sample.curv_xx = axial + bend * x * x;
        sample.curv_yy = axial + bend * y * y;
        sample.curv_xy = bend * x * y;
        return sample;
    }

  private:
    double r0_, q_;
};

// Zernike bumps (µm over a disc of given radius) on top of another surface. They may lift or tilt
// the vertex a little: use terms of order 3 and more with that in mind.
struct Bump {
    int order = 0, frequency = 0;
    double coefficient_um = 0;
};

class WithBumps : public AnteriorSurface {
  public:
    WithBumps(std::shared_ptr<const AnteriorSurface> base, double disc_radius, std::vector<Bump> bumps)
        : base_(std::move(base)), radius_(disc_radius), bumps_(std::move(bumps)) {}

    [[nodiscard]] double radius_covered() const override { return base_->radius_covered(); }
    [[nodiscard]] SurfaceSample sample(double x, double y) const override {
        SurfaceSample sum = base_->sample(x, y);
        for (const Bump& bump : bumps_) {
            const SurfaceSample shape =
                zernike_sample(zernike_index({bump.order, bump.frequency}), x / radius_, y / radius_);
            const double amount = mm_from_um(bump.coefficient_um);
            sum.height += amount * shape.height;
            sum.slope_x += amount * shape.slope_x / radius_;
            sum.slope_y += amount * shape.slope_y / radius_;
            sum.curv_xx += amount * shape.curv_xx / (radius_ * radius_);
            sum.curv_xy += amount * shape.curv_xy / (radius_ * radius_);
            sum.curv_yy += amount * shape.curv_yy / (radius_ * radius_);
        }
        return sum;
    }

  private:
    std::shared_ptr<const AnteriorSurface> base_;
    double radius_;
    std::vector<Bump> bumps_;
};

// A surface that ends sooner than the one it shows.
class CutOff : public AnteriorSurface {
  public:
    CutOff(std::shared_ptr<const AnteriorSurface> base, double radius) : base_(std::move(base)), radius_(radius) {}

    [[nodiscard]] double radius_covered() const override { return radius_; }
    [[nodiscard]] SurfaceSample sample(double x, double y) const override { return base_->sample(x, y); }

  private:
    std::shared_ptr<const AnteriorSurface> base_;
    double radius_;
};

}  // namespace graftwright::scenes
