// Fourier series around the ring ↔ values at its points, for all four jumps at once.
//
// Columns of a ring matrix: harmonic 0, then families A and B of each m (wound_model.h). u, w, b_s are
// (1, cos mθ, sin mθ), v is (1, sin mθ, −cos mθ). Same answers as the bases of WoundInterface to rounding.
// The four real rows travel as the complex series u + i w and v + i b_s, side by side: a point of the ring,
// (u, v, w, b_s), is then two pairs of numbers, real parts and imaginary parts, and every step of the transform
// works on pairs. Stockham's self-sorting form by factors 4, then 2, then whatever odd is left (plainly); source:
// Van Loan, Computational Frameworks for the Fast Fourier Transform, 1.7 (from memory, checked against the bases).
// Holds tables and buffers: one per thread; nothing is allocated after construction.
#pragma once

#include <vector>

#include "closure/wound_interface.h"

namespace graftwright {

class RingTransform {
  public:
    RingTransform(int harmonics, int points);

    void to_points(const RingMatrix& series, PointJumps& values);
    // Transpose of to_points times `arc`: forces per mm of ring to harmonics.
    void to_harmonics(const PointJumps& forces, double arc, RingMatrix& series);

  private:
    // Σ_m x_m exp(sign 2πi jm/points), from and to `work`; leaves the sum in the first or in `spare`.
    void transform(PointJumps& work, PointJumps& spare, double sign) const;

    int harmonics_, points_;
    std::vector<int> factors_;
    std::vector<double> cosine_, sine_;  // of 2π k/points
    PointJumps spectrum_, spare_;
};

}  // namespace graftwright
