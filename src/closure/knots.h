// Threads as springs: drawn, locked, slack, and the crossing strands between donor and host.
//
// Elongation of loop b:  e = −G_bᵀ x − (D T)_b − d_b + what its strands gain where they cross the wound (crossing.h).
// While a knot is drawn its tension is given; once locked its length is:
//   T = max(0, T_tie + (EA/L0)(e − e_tie)).
// For given edges the tensions of locked threads solve a small complementarity problem; put back, the
// threads' energy is a convex, once differentiable function of the edges alone.
// A running thread is one unknown a span instead of one a bite: each span follows that law with its own e, the deep
// crossing of a bite pulling half by the span before and half by the span behind it, the surface crossing by its own.
// Through a bite thread slides from span to span where belt
// friction lets it (Euler, Eytelwein: figures T9-01),
//   T_behind / T_before within exp(±µφ), φ the thread's bends in that bite,
// here |T_behind − T_before| ≤ tanh(µφ/2) (T_behind + T_before), the bound lagged by one pass (Knot::grip) so that the
// energy stays convex. Without friction all spans of a run share one tension, one unknown. mm, N.
#pragma once

#include <vector>

#include <Eigen/Core>

#include "closure/closure_system.h"
#include "closure/crossing.h"
#include "closure/tension_program.h"

namespace graftwright {

enum class Hold { open, drawn, locked };  // open: not tied yet, or cut out: no tension

struct Knot {
    Hold hold = Hold::open;
    double tie_tension = 0.0;
    double tie_elongation = 0.0;
    double stiffness = 0.0;  // EA/L0, N/mm
    double grip = 0.0;       // of a locked span: most that the bite it leaves keeps of difference to the span before
};

// Threads at given edges. Filled again, for as many bites, it allocates nothing.
struct ThreadResponse {
    double energy = 0.0;
    Eigen::VectorXd tension;     // N
    Eigen::VectorXd elongation;  // e, mm
    // Of the crossings:
    std::vector<EndValues> ends;    // u, v, w, b_s there
    std::vector<EndValues> by_end;  // what the strands gain, by these
    Eigen::VectorXd pull;           // tension there, N
    // Locked threads that pull, by the unknown they share (sliding spans of a run share one); −1: drawn, open, slack,
    // or held by friction against a slack one. `unknowns` is how many there are.
    std::vector<Eigen::Index> unknown;
    Eigen::Index unknowns = 0;
    // Of a span: thread that slid into it through the bite it leaves, since the last settling (mm).
    std::vector<double> slid;

    // Of no meaning afterwards.
    struct Work {
        Eigen::VectorXd unloaded, right, trial, locked_tension;
        Eigen::MatrixXd flexibility, factor;
        std::vector<Eigen::Index> locked, active;
        std::vector<bool> pulls;
        TensionProgram program;
        std::vector<Eigen::Index> merged, joined;
    } work;
};

class Threads {
  public:
    // The interface must outlive the threads.
    Threads(const ClosureSystem& system, const WoundInterface& interface);

    [[nodiscard]] std::size_t size() const { return size_; }
    // One a single bite, in their order; then run by run its deep ones and its surface ones.
    [[nodiscard]] const std::vector<Crossing>& crossings() const { return crossings_; }
    // `points`: the edges at the ring's points.
    void respond(const ReducedSystem& system, const std::vector<Knot>& knots, const RingMatrix& edges,
                 const RingMatrix& points, ThreadResponse& out) const;
    [[nodiscard]] ThreadResponse respond(const ReducedSystem& system, const std::vector<Knot>& knots,
                                         const RingMatrix& edges) const {
        ThreadResponse out;
        respond(system, knots, edges, interface_->edges_at_points(edges), out);
        return out;
    }
    // de_b by the edges at the response's.
    [[nodiscard]] RingMatrix elongation_gradient(const ReducedSystem& system, const ThreadResponse& response,
                                                 std::size_t thread) const;
    // Adds to each column of `gradients` (edges, flattened) the part of its thread's elongation that the crossings
    // have; unknown: column by thread, −1: none.
    void add_crossings(const ThreadResponse& response, const std::vector<Eigen::Index>& unknown,
                       Eigen::MatrixXd& gradients) const;

  private:
    void add_run(const ClosureSystem& system, const WoundInterface& interface, const RunOfSpans& run);
    // The steps of `respond`: sizes and zeros; elongation at no tension; the locked threads' tensions, which returns
    // the energy of their springs.
    void begin(ThreadResponse& out) const;
    void find_unloaded(const ReducedSystem& system, const RingMatrix& edges, const RingMatrix& points,
                       ThreadResponse& out) const;
    [[nodiscard]] double pull_locked(const ReducedSystem& system, const std::vector<Knot>& knots,
                                     ThreadResponse& out) const;
    static void find_locked_tensions(ThreadResponse& out);
    void find_spans_tensions(const std::vector<Knot>& knots, ThreadResponse& out) const;

    std::size_t size_ = 0;
    std::vector<RunOfSpans> runs_;
    std::vector<Crossing> crossings_;
    const WoundInterface* interface_;
};

// Most that belt friction µφ keeps of difference between the tensions before and behind a bite.
[[nodiscard]] double belt_grip(double friction_angle, double before, double behind);

// Tensions of a run's spans as its knot is drawn to `knot`, after the slack was worked round at `worked` (0: not).
// A pull at the ends loses exp(−µφ) at every bite on its way round; worked round, each span is drawn by hand and then
// gives thread to the next one toward the knot, which leaves it at worked · exp(−µφ) of the one bite between.
// turning: φ by bite. N, rad.
[[nodiscard]] std::vector<double> drawn_tensions(double knot, double worked, double friction,
                                                 const std::vector<double>& turning);

}  // namespace graftwright
