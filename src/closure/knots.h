// Threads as springs: drawn, locked, slack, and the crossing strands between donor and host.
//
// Elongation of loop b:  e = −G_bᵀ j − (D T)_b − d_b + Σ over its two strands (√(ℓ²+step²+slip²) − ℓ),
//   ℓ = 0.3 mm;  step for the deep strand only, slip for both
//   step = [w] + (d_g − d_h) − (t_g − t_h)/2,    slip = [v] + a(θ_h − θ_g)
// While a knot is drawn its tension is given; once locked its length is:
//   T = max(0, T_tie + (EA/L0)(e − e_tie)).
// For given jumps the tensions of locked threads solve a small complementarity problem; put back, the
// threads' energy is a convex, once differentiable function of the jumps alone, so a strand never
// pulls sideways with more than T. mm, N.
#pragma once

#include <vector>

#include <Eigen/Core>

#include "closure/closure_system.h"
#include "closure/wound_interface.h"

namespace graftwright {

inline constexpr double kCrossingLength = 0.3;  // ℓ, mm: free thread at the wound (design's choice)

enum class Hold { open, drawn, locked };  // open: not tied yet, or cut out: no tension

struct Knot {
    Hold hold = Hold::open;
    double tie_tension = 0.0;
    double tie_elongation = 0.0;
    double stiffness = 0.0;  // EA/L0, N/mm
};

// Where each bite's strands cross the wound, as rows over the ring's harmonics.
struct Crossing {
    Eigen::VectorXd step_row, slip_row;  // on [w], on [v]
    double step0 = 0.0, slip0 = 0.0;
};

[[nodiscard]] Crossing make_crossing(const BiteGeometry& bite, const WoundModel& model,
                                     const WoundInterface& interface);

// Threads at given jumps. Filled again, for as many bites, it allocates nothing.
struct ThreadResponse {
    double energy = 0.0;
    Eigen::VectorXd tension;     // N
    Eigen::VectorXd elongation;  // e, mm
    std::vector<double> step, slip;
    Eigen::VectorXd by_step, by_slip;  // de/dstep, de/dslip of the crossing strands

    // Of no meaning afterwards.
    struct Work {
        Eigen::VectorXd v, w, unloaded, right, trial, locked_tension;
        Eigen::MatrixXd flexibility, factor;
        std::vector<Eigen::Index> locked, active;
        std::vector<bool> pulls;
    } work;
};

class Threads {
  public:
    Threads(const ClosureSystem& system, const WoundInterface& interface);

    [[nodiscard]] std::size_t size() const { return crossings_.size(); }
    [[nodiscard]] const Crossing& crossing(std::size_t bite) const { return crossings_[bite]; }
    // The crossings' rows side by side, columns of the ring × bites.
    [[nodiscard]] const Eigen::MatrixXd& step_rows() const { return step_rows_; }
    [[nodiscard]] const Eigen::MatrixXd& slip_rows() const { return slip_rows_; }
    void respond(const ReducedSystem& system, const std::vector<Knot>& knots, const RingMatrix& jump,
                 ThreadResponse& out) const;
    [[nodiscard]] ThreadResponse respond(const ReducedSystem& system, const std::vector<Knot>& knots,
                                         const RingMatrix& jump) const {
        ThreadResponse out;
        respond(system, knots, jump, out);
        return out;
    }
    // de_b/dj at the response's jumps (a 4 × columns matrix).
    [[nodiscard]] RingMatrix elongation_gradient(const ReducedSystem& system, const ThreadResponse& response,
                                                 std::size_t bite) const;

  private:
    std::vector<Crossing> crossings_;
    Eigen::MatrixXd step_rows_, slip_rows_;
};

// √(ℓ² + step² + slip²) − ℓ for the deep strand plus the same without step for the surface strand.
[[nodiscard]] double crossing_elongation(double step, double slip);

}  // namespace graftwright
