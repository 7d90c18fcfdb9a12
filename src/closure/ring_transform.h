// Fourier series around the ring ↔ values at its points, for the four rows of one edge or of the jumps at once.
//
// Columns of a ring matrix: harmonic 0, then families A and B of each m (wound_model.h). u, w, b_s are
// (1, cos mθ, sin mθ), v is (1, sin mθ, −cos mθ). Two real rows travel in one complex FFT, and two of
// those side by side. Same answers as the bases of WoundInterface to rounding. Holds plans and buffers: one
// per thread at a time; nothing is allocated after the first transform in a thread.
#pragma once

#include <memory>

#include "closure/wound_interface.h"

namespace graftwright {

class RingTransform {
  public:
    RingTransform(int harmonics, int points);
    ~RingTransform();
    RingTransform(const RingTransform&) = delete;
    RingTransform& operator=(const RingTransform&) = delete;

    void to_points(const Eigen::Ref<const RingMatrix>& series, Eigen::Ref<RingMatrix> values);
    // Transpose of to_points times `arc`: forces per mm of ring to harmonics.
    void to_harmonics(const Eigen::Ref<const RingMatrix>& forces, double arc, Eigen::Ref<RingMatrix> series);
    // The same of jumps and donor's edge side by side.
    void edges_to_points(const RingMatrix& series, RingMatrix& values);
    void edges_to_harmonics(const RingMatrix& forces, RingMatrix& series);

  private:
    struct Plan;  // the library's, and its buffers

    int harmonics_, points_;
    std::unique_ptr<Plan> plan_;
};

}  // namespace graftwright
