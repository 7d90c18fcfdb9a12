// The plain reference solver: Newton on all of both edges with a dense Cholesky factor.
//
// Minimises  ½ xᵀ K x − F_pᵀ x + contact(j) + threads(x), which is convex and once differentiable;
// contact and slack threads make it piecewise smooth. Each step factors the full tangent (8(2M+1)
// unknowns) and backtracks until the energy falls (Armijo), so it converges from anywhere.
// Cost: about n³/3 for n = 1032 (M = 64). Allocates its matrix once. One thread per solver.
#pragma once

#include <Eigen/Core>

#include "closure/closure_solver.h"

namespace graftwright {

class DenseSolver final : public ClosureSolver {
  public:
    // Both must outlive the solver.
    DenseSolver(const ClosureSystem& system, const WoundInterface& interface, const SolveOptions& options = {});

    // Finds the edges in balance, starting from `edges`. The fibre state is not changed.
    [[nodiscard]] SolveSummary minimise(const ReducedSystem& reduced, const std::vector<Knot>& knots,
                                        const FibreState& fibres, RingMatrix& edges) override;

  private:
    struct Evaluation {
        double energy = 0.0;
        RingMatrix gradient;
        double load_norm = 0.0;
        ThreadResponse threads;
    };
    void evaluate(const ReducedSystem& reduced, const std::vector<Knot>& knots, const FibreState& fibres,
                  const RingMatrix& edges, Evaluation& out);
    void assemble(const ReducedSystem& reduced, const std::vector<Knot>& knots, const Evaluation& at);
    void add_contact();
    void add_threads(const ReducedSystem& reduced, const std::vector<Knot>& knots, const ThreadResponse& at);

    const WoundInterface* interface_;
    Threads threads_;
    SolveOptions options_;
    int harmonics_;
    Eigen::MatrixXd cosines_, sines_;  // points × (2M+1): cos qθ, sin qθ, q = 0 … 2M
    Eigen::MatrixXd tangent_;
    WoundInterface::Response contact_;
};

}  // namespace graftwright
