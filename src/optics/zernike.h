// Zernike polynomials to order 6 and what of a cornea's front they call irregular.
//
// OSA / ANSI Z80.28 / ISO 24157: order n, frequency m (m < 0: sine), single index
// j = (n (n + 2) + m) / 2, normalised so that the mean of Z² over the unit disc is 1:
//   Z = N R(ρ) cos mθ  or  N R(ρ) sin |m|θ,   N = √(2 (n + 1) / (1 + δ_m0)),
//   R(ρ) = Σ_k (-1)^k (n - k)! / (k! ((n + |m|)/2 - k)! ((n - |m|)/2 - k)!) ρ^(n - 2k)
// θ counter-clockwise from +x. Coefficients in µm over a disc of a given radius in mm, so that
// the root of the sum of their squares is the RMS of the shape.
//
// Elevation, not wavefront: a bump of the cornea is not the error of the eye's image.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include <Eigen/Core>

#include "optics/disc_quadrature.h"
#include "optics/surface.h"

namespace graftwright {

inline constexpr int kZernikeOrder = 6;
inline constexpr int kZernikeTerms = (kZernikeOrder + 1) * (kZernikeOrder + 2) / 2;

struct ZernikeTerm {
    int order = 0;      // n >= 0
    int frequency = 0;  // m, |m| <= n, n - |m| even
};

[[nodiscard]] int zernike_index(ZernikeTerm term);
[[nodiscard]] ZernikeTerm zernike_term(int index);

// Z_j at (x, y) of the unit disc (a polynomial: outside too), and with its derivatives there.
[[nodiscard]] double zernike_value(int index, double x, double y);
[[nodiscard]] SurfaceSample zernike_sample(int index, double x, double y);

struct ZernikeFit {
    double radius_mm = 0;
    std::array<double, kZernikeTerms> coefficients_um{};

    [[nodiscard]] double coefficient_um(int order, int frequency) const;
    // √Σ c² over the orders from..to.
    [[nodiscard]] double rms_um(int from_order, int to_order) const;
};

// The disc where fits sample: 12 rings of 64 places. Products with order-6 polynomials are
// integrated exactly for shapes of degree up to 40 and harmonics up to 57.
[[nodiscard]] std::vector<DiscNode> zernike_disc(double radius_mm);
// Projection of heights (mm, at the places of zernike_disc, in its order): the least-squares fit.
[[nodiscard]] ZernikeFit fit_zernike(const Eigen::Ref<const Eigen::VectorXd>& heights, double radius_mm);

// The sphere nearest to the surface over a disc: apex height, place of the axis, curvature 1/R
// (mm, 1/mm); heights s = apex - κ d² / (1 + √(1 - κ² d²)), d the distance from its axis.
struct BestSphere {
    double apex = 0, centre_x = 0, centre_y = 0, curvature = 0;

    [[nodiscard]] double height(double x, double y) const;
};

// Zone of the irregularity figure: our choice, fixed with the meaning of hoa_rms_um.
inline constexpr double kIrregularityDiameterMm = 4.0;

struct Irregularity {
    double hoa_rms_um = 0;  // RMS of orders 3-6
    BestSphere sphere;
    ZernikeFit residual;  // elevation above that sphere
};

// Elevation minus its best-fit sphere (free centre and radius, least squares of the height
// differences over the disc), then Zernike orders 3-6. Nothing is left to subtract for the
// undeformed sphere: what is taken off is an exact sphere, not a paraboloid, so a sphere fits
// itself and leaves rounding only; a tilted or decentred one as well.
// A regular cylinder does leave something, about 0.014 µm a dioptre over 4 mm at 7.8 mm.
// Nothing where the surface does not cover the disc or no sphere fits.
[[nodiscard]] std::optional<Irregularity> irregularity(const AnteriorSurface& surface,
                                                       double diameter_mm = kIrregularityDiameterMm);
[[nodiscard]] std::optional<double> irregularity_rms_um(const AnteriorSurface& surface,
                                                        double diameter_mm = kIrregularityDiameterMm);

}  // namespace graftwright
