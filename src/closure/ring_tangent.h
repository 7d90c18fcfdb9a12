// The tangent of a closure at given jumps, its product with a vector, its preconditioner, and conjugate gradients.
//
//   tangent = S (4 × 4 blocks by harmonic) + contact (pointwise in θ) + G A⁻¹ Gᵀ (locked threads) + crossing strands
// with G the loops' elongation gradients and A their flexibility. A product takes one Fourier transform to the points
// of the ring, a pointwise 4 × 4 block, and one back; loops and crossing strands are of low rank. Preconditioner: by
// harmonic B = S + the ring's mean contact and mean crossing stiffness, with the loops (and, while few bites hold the
// donor, the crossing strands) by Woodbury:
//   z = B⁻¹ (r − G y),   (A + Gᵀ B⁻¹ G) y = Gᵀ B⁻¹ r,   whence Gᵀ z = A y:
// the loops' part of the next product, G A⁻¹ Gᵀ p, follows from y without another Gᵀ p.
// Work and memory grow as M log M. Nothing is allocated after construction. One thread at a time.
#pragma once

#include <vector>

#include <Eigen/Core>

#include "closure/knots.h"
#include "closure/ring_transform.h"

namespace graftwright {

class RingTangent {
  public:
    // The interface and the threads must outlive the tangent.
    RingTangent(const ClosureSystem& system, const WoundInterface& interface, const Threads& threads);

    // `reduced` must stay as it is until the next call.
    void linearise(const ReducedSystem& reduced, const std::vector<Knot>& knots, const ThreadResponse& threads,
                   const WoundInterface::Response& contact);
    // Solves tangent · step = −gradient to a relative residual; returns the number of products.
    int solve(const RingMatrix& gradient, double relative, RingMatrix& step);

  private:
    void add_loops(const std::vector<Knot>& knots, const ThreadResponse& threads);
    void add_strands(const ThreadResponse& threads);
    void factor_preconditioner();
    // y = tangent · x, where A⁻¹ Gᵀ x = pull_.
    void product(const RingMatrix& x, RingMatrix& y);
    // z = preconditioner · r; A⁻¹ Gᵀ z into next_pull_.
    void precondition(const RingMatrix& r, RingMatrix& z);

    const WoundInterface* interface_;
    const Threads* threads_;
    const ReducedSystem* reduced_ = nullptr;
    RingTransform transform_;

    Eigen::Matrix<double, 6, Eigen::Dynamic> contact_;  // pointwise, rows uu, ub, bb, vv, vw, ww
    Eigen::MatrixXd loops_;  // G: unknowns × pulling threads (those that slide together as one), then strands one by one
    Eigen::MatrixXd flexibility_;                       // A
    Eigen::Index loop_count_ = 0;
    Eigen::Array<double, Eigen::Dynamic, 3> strand_stiffness_;  // by crossing: step-step, step-slip, slip-slip
    double mean_step_ = 0.0, mean_slip_ = 0.0;
    bool strands_apart_ = true;  // not among the loops

    std::vector<Eigen::Matrix4d> block_inverse_;  // B⁻¹
    Eigen::MatrixXd solved_loops_;                // B⁻¹ G
    Eigen::MatrixXd woodbury_, small_inverse_;    // A + Gᵀ B⁻¹ G and its inverse
    Eigen::VectorXd drawn_, pull_, next_pull_;
    Eigen::VectorXd v_, w_, slip_, step_, on_slip_, on_step_;

    PointJumps points_in_, points_out_;
    RingMatrix residual_, solved_, direction_, image_;
};

}  // namespace graftwright
