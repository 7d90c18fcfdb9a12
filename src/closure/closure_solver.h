// What a closure asks of a solver: the wound's edges in balance for given threads, fluid and friction bounds.
//
// The energy  ½ xᵀ K x − F_pᵀ x + contact(j) + threads(x), x = (j, d) the edges (wound_model.h), is once
// differentiable, piecewise smooth (contact and slack threads) and, once the bites hold the donor against the chamber,
// convex, so that Newton with a line search gets there from anywhere. Where they do not, pressure tilts a loose donor out
// of its bed and there is no minimum: a solve then ends unconverged, and says so.
#pragma once

#include <vector>

#include "closure/knots.h"

namespace graftwright {

struct SolveOptions {
    double tolerance = 1e-10;  // residual over the sum of the loads' norms
    int max_iterations = 80;   // Newton steps
};

struct SolveSummary {
    bool converged = false;
    int iterations = 0;        // Newton steps
    int inner_iterations = 0;  // of conjugate gradients, where a solver uses them
    int inner_limited = 0;     // steps whose conjugate gradients ended at their limit …
    int inner_curved = 0;      // … or where the energy does not curve upward
    double residual = 0.0;     // relative, at the end
};

// A solve that can't get lower for rounding still counts with a relative residual of this.
inline constexpr double kGoodEnoughResidual = 1e-8;

class ClosureSolver {
  public:
    virtual ~ClosureSolver() = default;
    // Starts from `edges` and changes nothing else.
    [[nodiscard]] virtual SolveSummary minimise(const ReducedSystem& reduced, const std::vector<Knot>& knots,
                                                const FibreState& fibres, RingMatrix& edges) = 0;

  protected:
    ClosureSolver() = default;
    ClosureSolver(const ClosureSolver&) = default;
    ClosureSolver& operator=(const ClosureSolver&) = default;
    ClosureSolver(ClosureSolver&&) = default;
    ClosureSolver& operator=(ClosureSolver&&) = default;
};

}  // namespace graftwright
