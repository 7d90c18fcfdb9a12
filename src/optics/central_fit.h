// Central curvature from a polynomial laid through the elevation, for comparisons with other
// programs: `graftwright ring` and the 3-D solids it is held against.
//
//   z = c0 + c1 x + c2 y + ½ (a x² + 2 b x y + c y²) [+ d ρ⁴ [+ ρ² (e (x² − y²) + 2 f x y)]]
// by least squares over a disc;
//   M = 337.5 x -(a + c)/2,  J0 = 337.5 x -(a - c)/2,  J45 = 337.5 x -b   (corneal convention)
// z out of the eye, mm. Curvature is read as the second derivative: a surface tilted by one degree
// in the frame of the fit reads 0.05 % too little. Nothing is said about irregularity.
//
// Neither form is exact on a sphere of radius R over a disc of radius ρ0, because the sphere is
// not a polynomial:
//   without d  ΔM/M ≈ +(ρ0/R)²/4       the sphere's ρ⁴/8R³ is taken for curvature
//   with d     ΔM/M ≈ -3 (ρ0/R)⁴/40    its ρ⁶/16R⁵ is
// At R 7.875 and ρ0 1.6 mm that is about +0.45 D and -0.006 D. Without e and f a torus's cylinder
// reads 9/16 (ρ0/R)² too strong, 2.4 % there: its ρ⁴ cos 2θ. Sutures bend the surface more: on a cap
// under two force dipoles the 3-D solids' cylinder is 1.37 D with e and f and 1.22 D without. The
// form with all of them is the default and what the 3-D results are read with.
// Compare only figures of the same form and disc.
#pragma once

#include <optional>
#include <vector>

#include "optics/power_vector.h"
#include "optics/surface.h"

namespace graftwright {

enum class CentralForm { quadratic, with_quartic, full_quartic };

struct SurfacePoint {
    double x = 0, y = 0, z = 0;
    double weight = 1;  // area it stands for, in any unit
};

struct CentralFit {
    double mean_D = 0;
    double cylinder_D = 0;
    double steep_axis_deg = 0;
    PowerVector power;           // corneal convention
    double residual_rms_um = 0;  // of the fit
};

// Through the points within `radius` of (0, 0); nothing where they cannot carry the form.
[[nodiscard]] std::optional<CentralFit> fit_central_curvature(const std::vector<SurfacePoint>& points, double radius,
                                                              CentralForm form = CentralForm::full_quartic);

// Through the surface at quadrature places, each weighted by its area; nothing beyond coverage.
[[nodiscard]] std::optional<CentralFit> fit_central_curvature(const AnteriorSurface& surface, double radius,
                                                              CentralForm form = CentralForm::full_quartic);

}  // namespace graftwright
