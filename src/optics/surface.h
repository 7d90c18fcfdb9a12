// The front of the cornea as a keratometer meets it: a height over a plane, with its derivatives.
//
// Frame: origin at the vertex (the point of the surface the instrument is aimed at), z along the
// surface normal there, pointing OUT of the eye; x toward 0° (3 o'clock), y toward 90°
// (12 o'clock), as an examiner facing the eye sees them. Height and slopes are therefore zero at
// the origin (tilt is removed by the frame itself) and the height is negative around it wherever
// the cornea is convex. Everything in mm: height mm, slopes 1, curvatures 1/mm.
//
// Meridian through (x, y) = ρ (cos φ, sin φ):  h_ρ = h_x cos φ + h_y sin φ,
// h_ρρ = h_xx cos²φ + 2 h_xy cos φ sin φ + h_yy sin²φ.
//
// It does not say how the surface came about: the mechanics writes one kind, the tests others.
#pragma once

#include <cmath>

namespace graftwright {

// h, ∂h/∂x, ∂h/∂y and the three second derivatives at one place.
struct SurfaceSample {
    double height = 0;
    double slope_x = 0, slope_y = 0;
    double curv_xx = 0, curv_xy = 0, curv_yy = 0;

    // Slope and second derivative along the meridian at angle φ (rad) from the x axis.
    [[nodiscard]] double slope_along(double angle) const {
        return slope_x * std::cos(angle) + slope_y * std::sin(angle);
    }
    [[nodiscard]] double curv_along(double angle) const {
        const double c = std::cos(angle), s = std::sin(angle);
        return curv_xx * c * c + 2 * curv_xy * c * s + curv_yy * s * s;
    }
};

class AnteriorSurface {
  public:
    virtual ~AnteriorSurface() = default;

    // The surface over (x, y), for any x² + y² <= radius_covered()².
    [[nodiscard]] virtual SurfaceSample sample(double x, double y) const = 0;
    // Radius of the disc about the vertex inside which sample() may be asked.
    [[nodiscard]] virtual double radius_covered() const = 0;

  protected:
    AnteriorSurface() = default;
    AnteriorSurface(const AnteriorSurface&) = default;
    AnteriorSurface& operator=(const AnteriorSurface&) = default;
    AnteriorSurface(AnteriorSurface&&) = default;
    AnteriorSurface& operator=(AnteriorSurface&&) = default;
};

}  // namespace graftwright
