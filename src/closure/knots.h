// Threads as springs: drawn, locked, slack, and the crossing strands between donor and host.
//
// Elongation of loop b:  e = −G_bᵀ j − (D T)_b − d_b + Σ over its two strands (√(ℓ²+step²+slip²) − ℓ),
//   ℓ = 0.3 mm;  step for the deep strand only, slip for both
//   step = [w] + (d_g − d_h) − (t_g − t_h)/2,    slip = [v] + a(θ_h − θ_g)
// While a knot is drawn its tension is given; once locked its length is:
//   T = max(0, T_tie + (EA/L0)(e − e_tie)).
// For given jumps the tensions of locked threads solve a small complementarity problem; put back, the
// threads' energy is a convex, once differentiable function of the jumps alone, so a strand never
// pulls sideways with more than T.
// A running thread is one unknown a span instead of one a bite: each span follows that law with its own e, the deep
// crossing of a bite pulling half by the span before and half by the span behind it, the surface crossing by its own
// (oblique: with the cosine of its angle to the meridian). Through a bite thread slides from span to span where belt
// friction lets it (Euler, Eytelwein: figures T9-01),
//   T_behind / T_before within exp(±µφ), φ the thread's bends in that bite,
// here |T_behind − T_before| ≤ tanh(µφ/2) (T_behind + T_before), the bound lagged by one pass (Knot::grip) so that the
// energy stays convex. Without friction all spans of a run share one tension, one unknown. mm, N.
#pragma once

#include <vector>

#include <Eigen/Core>

#include "closure/closure_system.h"
#include "closure/tension_program.h"
#include "closure/wound_interface.h"

namespace graftwright {

inline constexpr double kCrossingLength = 0.3;  // ℓ, mm: free thread at the wound (design's choice)

enum class Hold { open, drawn, locked };  // open: not tied yet, or cut out: no tension

struct Knot {
    Hold hold = Hold::open;
    double tie_tension = 0.0;
    double tie_elongation = 0.0;
    double stiffness = 0.0;  // EA/L0, N/mm
    double grip = 0.0;       // of a locked span: most that the bite it leaves keeps of difference to the span before
};

// Where strands cross the wound, as rows over the ring's harmonics.
struct Crossing {
    Eigen::VectorXd step_row, slip_row;  // on [w], on [v]
    double step0 = 0.0, slip0 = 0.0;
    bool deep = true, surface = true;  // which strands cross here
    // The threads that pull here: the first alone, or two with half each.
    Eigen::Index first = 0, second = -1;
    [[nodiscard]] double share() const { return second < 0 ? 1.0 : 0.5; }
};

[[nodiscard]] Crossing make_crossing(const BiteGeometry& bite, const WoundModel& model,
                                     const WoundInterface& interface);

// Threads at given jumps. Filled again, for as many bites, it allocates nothing.
struct ThreadResponse {
    double energy = 0.0;
    Eigen::VectorXd tension;     // N
    Eigen::VectorXd elongation;  // e, mm
    // Of the crossings:
    std::vector<double> step, slip;
    Eigen::VectorXd by_step, by_slip;  // de/dstep, de/dslip of the strands
    Eigen::VectorXd pull;              // tension there, N
    // Locked threads that pull, by the unknown they share (sliding spans of a run share one); −1: drawn, open, slack,
    // or held by friction against a slack one. `unknowns` is how many there are.
    std::vector<Eigen::Index> unknown;
    Eigen::Index unknowns = 0;
    // Of a span: thread that slid into it through the bite it leaves, since the last settling (mm).
    std::vector<double> slid;

    // Of no meaning afterwards.
    struct Work {
        Eigen::VectorXd v, w, unloaded, right, trial, locked_tension;
        Eigen::MatrixXd flexibility, factor;
        std::vector<Eigen::Index> locked, active;
        std::vector<bool> pulls;
        TensionProgram program;
        std::vector<Eigen::Index> merged, joined;
    } work;
};

class Threads {
  public:
    Threads(const ClosureSystem& system, const WoundInterface& interface);

    [[nodiscard]] std::size_t size() const { return size_; }
    // One a single bite, in their order; then run by run its deep ones and its surface ones.
    [[nodiscard]] const std::vector<Crossing>& crossings() const { return crossings_; }
    // The crossings' rows side by side, columns of the ring × crossings.
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
                                                 std::size_t thread) const;

  private:
    void add_run(const ClosureSystem& system, const WoundInterface& interface, const RunOfSpans& run);
    static void find_locked_tensions(ThreadResponse& out);
    void find_spans_tensions(const std::vector<Knot>& knots, ThreadResponse& out) const;

    std::size_t size_ = 0;
    std::vector<RunOfSpans> runs_;
    std::vector<Crossing> crossings_;
    Eigen::MatrixXd step_rows_, slip_rows_;
};

// √(ℓ² + step² + slip²) − ℓ for the deep strand plus the same without step for the surface strand.
[[nodiscard]] double crossing_elongation(double step, double slip);

// Most that belt friction µφ keeps of difference between the tensions before and behind a bite.
[[nodiscard]] double belt_grip(double friction_angle, double before, double behind);

// Tensions of a run's spans as its knot is drawn to `knot`, after the slack was worked round at `worked` (0: not).
// A pull at the ends loses exp(−µφ) at every bite on its way round; worked round, each span is drawn by hand and then
// gives thread to the next one toward the knot, which leaves it at worked · exp(−µφ) of the one bite between.
// turning: φ by bite. N, rad.
[[nodiscard]] std::vector<double> drawn_tensions(double knot, double worked, double friction,
                                                 const std::vector<double>& turning);

}  // namespace graftwright
