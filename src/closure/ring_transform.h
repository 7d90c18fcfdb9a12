// Fourier series around the ring ↔ values at its points, for all four jumps at once.
//
// Columns of a ring matrix: harmonic 0, then families A and B of each m (wound_model.h). u, w, b_s are
// (1, cos mθ, sin mθ), v is (1, sin mθ, −cos mθ). Two real rows travel in one complex FFT. Same
// answers as the bases of WoundInterface to rounding. Holds plans and buffers: one per thread; nothing
// is allocated after construction.
#pragma once

#include <complex>
#include <vector>

#include <unsupported/Eigen/FFT>

#include "closure/wound_interface.h"

namespace graftwright {

class RingTransform {
  public:
    RingTransform(int harmonics, int points);

    void to_points(const RingMatrix& series, PointJumps& values);
    // Transpose of to_points times `arc`: forces per mm of ring to harmonics.
    void to_harmonics(const PointJumps& forces, double arc, RingMatrix& series);

  private:
    int harmonics_, points_;
    Eigen::FFT<double> fft_;
    std::vector<std::complex<double>> spectrum_, signal_;
};

}  // namespace graftwright
