// The interactive solver: Newton outside, preconditioned conjugate gradients inside (ring_tangent.h).
//
// Steps are inexact: the inner residual falls by a fixed factor, more where that ends the solve.
// One thread per solver. All it needs is allocated by its first solve, later ones allocate nothing. Same input,
// same bits, whatever it solved before.
#pragma once

#include <Eigen/Core>

#include "closure/closure_solver.h"
#include "closure/descent.h"
#include "closure/ring_tangent.h"

namespace graftwright {

class NewtonSolver final : public ClosureSolver {
  public:
    // Both must outlive the solver.
    NewtonSolver(const ClosureSystem& system, const WoundInterface& interface, const SolveOptions& options = {});

    [[nodiscard]] SolveSummary minimise(const ReducedSystem& reduced, const std::vector<Knot>& knots,
                                        const FibreState& fibres, RingMatrix& edges) override;

  private:
    struct Evaluation {
        double energy = 0.0;
        RingMatrix gradient;
        double load_norm = 0.0;
        ThreadResponse threads;
        WoundInterface::Response contact;
    };
    void evaluate(const ReducedSystem& reduced, const std::vector<Knot>& knots, const FibreState& fibres,
                  const RingMatrix& edges, Evaluation& out);
    // Adds the threads' pull to gradient and load norm.
    void add_threads(const ReducedSystem& reduced, Evaluation& out);

    const WoundInterface* interface_;
    Threads threads_;
    SolveOptions options_;
    RingTransform transform_;
    RingTangent tangent_;
    DescentWork<Evaluation> work_;

    RingMatrix points_, forces_;  // the edges at the ring's points; crossings' forces there
    RingMatrix contact_force_, crossing_force_;
    // Norms of the crossings' rows and of the threads' forces, for the sum of the loads' norms.
    double end_norm_ = 0.0;
    Eigen::VectorXd force_norm_;
};

}  // namespace graftwright
