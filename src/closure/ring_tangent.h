// The tangent of a closure at given edges, its preconditioner, and conjugate gradients.
//
//   tangent = K (edges, by harmonic) + contact (pointwise in θ) + G A⁻¹ Gᵀ (locked threads) + crossing strands
// with G the loops' elongation gradients and A their flexibility. The preconditioner P = B + G A⁻¹ Gᵀ has contact and
// crossing strands even round the ring: by harmonic K + their mean on the jumps, its donor's part eliminated,
//   S = K_h − K_h (K_d+K_h)⁻¹ K_h + mean,   j = S⁻¹ (r_j − K_h (K_d+K_h)⁻¹ r_d),   d = (K_d+K_h)⁻¹ (r_d − K_h j),
// with the loops (and the strands of a few crossings one by one: of all while they alone hold the donor, else of those
// far stiffer than the rest) by Woodbury:
//   P⁻¹ r = B⁻¹ (r − G y),   (A + Gᵀ B⁻¹ G) y = Gᵀ B⁻¹ r.
// So the tangent is P but for what is uneven, and its image of z = P⁻¹ r is r + (tangent − P) z: a Fourier transform of
// each edge to the points of the ring, pointwise blocks (contact's, and each crossing's on the points about its ends),
// one of each back, less the mean. Neither K nor the loops enter; the image of a direction goes on with it (the same
// recurrence). Rounding that so gathers shows in the next Newton step's residual, which is computed anew.
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
    enum class End { solved, at_limit, not_convex };
    struct Solve {
        int iterations = 0;
        End end = End::solved;
    };
    // Solves tangent · step = −gradient to a relative residual. Ended early, the step so far is still downhill.
    Solve solve(const RingMatrix& gradient, double relative, RingMatrix& step);

  private:
    void add_loops(const std::vector<Knot>& knots, const ThreadResponse& threads);
    void add_strands(const ThreadResponse& threads);
    void share_out_crossings(const ThreadResponse& threads);
    void factor_preconditioner();
    // y += (tangent − P) x.
    void add_uneven(const RingMatrix& x, RingMatrix& y);
    // z = P⁻¹ r.
    void precondition(const RingMatrix& r, RingMatrix& z);
    // z = B⁻¹ r.
    void apply_blocks(const Eigen::Ref<const RingMatrix>& r, Eigen::Ref<RingMatrix> z) const;

    const WoundInterface* interface_;
    const Threads* threads_;
    const ReducedSystem* reduced_ = nullptr;
    RingTransform transform_;

    Eigen::Matrix<double, 6, Eigen::Dynamic> contact_;  // pointwise, rows uu, ub, bb, vv, vw, ww
    Eigen::MatrixXd
        loops_;  // G: unknowns × pulling threads (those that slide together as one), then strands one by one
    Eigen::MatrixXd flexibility_;  // A
    Eigen::Index loop_count_ = 0;
    std::vector<Eigen::Matrix<double, 8, 8>> strand_stiffness_;  // by crossing, on its ends
    Eigen::Matrix4d mean_strands_;
    std::vector<std::size_t> by_mean_, one_by_one_;  // crossings, as the preconditioner takes their strands
    std::vector<double> damping_;                    // of the threads' spread, by harmonic, squared

    struct Block {
        Eigen::Matrix4d even;                         // mean of contact and crossings
        Eigen::Matrix4d jump_inverse, glued_inverse;  // S⁻¹, (K_d+K_h)⁻¹
        Eigen::Matrix4d donor_share;                  // (K_d+K_h)⁻¹ K_h
    };
    std::vector<Block> blocks_;
    Eigen::MatrixXd solved_loops_;              // B⁻¹ G
    Eigen::MatrixXd woodbury_, small_inverse_;  // A + Gᵀ B⁻¹ G and its inverse
    Eigen::VectorXd drawn_, pull_;

    RingMatrix points_in_, points_out_, on_harmonics_;
    RingMatrix residual_, solved_, direction_, image_;
};

}  // namespace graftwright
