// The interactive solver: Newton outside, preconditioned conjugate gradients inside.
//
// The tangent is  S (4 × 4 blocks by harmonic) + contact (pointwise in θ) + Σ loops g gᵀ + crossing strands.
// Its product with a vector takes one Fourier transform to the points of the ring, a pointwise 4 × 4
// block, and one back; loops and crossing strands are of low rank. Preconditioner: by harmonic, S plus the
// ring's mean contact and mean crossing stiffness, factored once a Newton step, with the loops (and, while
// few bites hold the donor, the crossing strands) as a low-rank correction (Woodbury).
// Work and memory grow as M log M; a product costs tens of microseconds at M = 64, 256 points.
// Steps are inexact: the inner residual falls by a fixed factor, more where that ends the solve.
// One thread per solver. Products and preconditioning, where the time goes, allocate nothing; a Newton step
// allocates small things around them. Same input, same bits.
#pragma once

#include <Eigen/Core>

#include "closure/closure_solver.h"
#include "closure/ring_transform.h"

namespace graftwright {

class NewtonSolver final : public ClosureSolver {
  public:
    // Both must outlive the solver.
    NewtonSolver(const ClosureSystem& system, const WoundInterface& interface, const SolveOptions& options = {});

    [[nodiscard]] SolveSummary minimise(const ReducedSystem& reduced, const std::vector<Knot>& knots,
                                        const FibreState& fibres, RingMatrix& jump) override;

  private:
    struct Evaluation {
        double energy = 0.0;
        RingMatrix gradient;
        double load_norm = 0.0;
        ThreadResponse threads;
        WoundInterface::Response contact;
    };
    void evaluate(const ReducedSystem& reduced, const std::vector<Knot>& knots, const FibreState& fibres,
                  const RingMatrix& jump, Evaluation& out);
    // Everything of the tangent at `at` that product and precondition need.
    void linearise(const ReducedSystem& reduced, const std::vector<Knot>& knots, const Evaluation& at);
    void factor_preconditioner(const ReducedSystem& reduced);
    void product(const ReducedSystem& reduced, const RingMatrix& x, RingMatrix& y);
    void precondition(const RingMatrix& r, RingMatrix& z);
    void apply_blocks(const RingMatrix& r, RingMatrix& z) const;
    // Solves tangent · step = −gradient to a relative residual; returns the number of products.
    int conjugate_gradients(const ReducedSystem& reduced, const RingMatrix& gradient, double relative,
                            RingMatrix& step);

    const WoundInterface* interface_;
    Threads threads_;
    SolveOptions options_;
    RingTransform transform_;

    // The tangent's parts.
    Eigen::Matrix<double, 6, Eigen::Dynamic> contact_;  // pointwise, rows uu, ub, bb, vv, vw, ww
    Eigen::MatrixXd loops_;                             // unknowns × pulling loops, scaled
    Eigen::Index loop_count_ = 0;
    Eigen::MatrixXd strands_;           // columns × 2·bites: step and slip rows
    Eigen::MatrixXd strand_stiffness_;  // 3 × bites: step-step, step-slip, slip-slip
    double mean_step_ = 0.0, mean_slip_ = 0.0;

    // The preconditioner's.
    std::vector<Eigen::Matrix4d> block_inverse_;
    Eigen::MatrixXd solved_loops_;
    Eigen::MatrixXd small_inverse_;
    Eigen::VectorXd drawn_, pull_;

    PointJumps points_in_, points_out_;
    RingMatrix residual_, solved_, direction_, image_, buffer_;
};

}  // namespace graftwright
