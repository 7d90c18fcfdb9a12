// Places and weights for means over a disc: Gauss-Legendre in ρ², uniform in θ.
//
//   mean of f over the disc of radius a = (1/π a²) ∫ f dA = (1/2π) ∫∫ f d(ρ²/a²) dθ ≈ Σ w_i f_i
//
// The mean is exact for every polynomial in x and y of degree up to 2 (2 radial - 1) with no
// angular harmonic of `angular` or more: harmonics other than 0 sum to zero around a circle, and
// what is left is a polynomial in ρ². Places in units of the given radius; weights add up to 1.
#pragma once

#include <vector>

namespace graftwright {

struct DiscNode {
    double x = 0, y = 0;
    double weight = 0;
};

[[nodiscard]] std::vector<DiscNode> disc_quadrature(double radius, int radial, int angular);

}  // namespace graftwright
