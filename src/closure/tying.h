// A closure in the making: bites tied one after another, then the chamber filled.
//
// Bite after bite is drawn to its tension and locked, in the order given. The first two are tied with
// the chamber open (two bites hold no pressure), from the third on at 1 mmHg. Until the fourth the
// donor floats on viscoelastic, which lets its edge slide freely; from the fourth on the edges rub.
// (With pressure under one bite the donor tilts, with friction under two it sticks where it was
// laid: both leave up to 1.4 D that no hand put there.) Bites marked as removed are cut out after the last knot, or
// when so many had been tied; what is left counts for the rules of the first three. Running threads are tied after the
// single bites, in order: laid slack, then all spans drawn at once to what the knot and the working-round of the slack
// leave them (knots.h: drawn_tensions), then locked; from then on thread slides from span to span as friction lets it.
// Then the chamber is filled in steps. Tying later bites slackens earlier ones and pressure tightens all: both come out
// of the balance, neither is put in. Chamber fluid presses on the faces behind the innermost fibre that seals (see
// leak/).
// mm, N, MPa, rad.
#pragma once

#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "closure/closure_solver.h"
#include "closure/ring_transform.h"

namespace graftwright {

inline constexpr double kTyingPressure = 1.0 * kMPaPerMmHg;
inline constexpr std::size_t kBitesThatHoldAChamber = 3;
inline constexpr std::size_t kBitesThatAnchorADonor = 4;  // the cardinals
// Steps of pressure on the way up: our choice. Half and a quarter of it gave the same leak pressure to 0.001 mmHg with
// 4, 8 and 16 bites at 10, 15 and 25 mN.
inline constexpr double kFillStep_mmHg = 7.5;

struct KnotPlan {
    double tension = 0.0;           // drawn to, N
    bool removed = false;           // cut out …
    std::size_t removed_after = 0;  // … when this many bites had been tied; 0: after the last knot
};

// A running thread: its knot is drawn to a tension after the slack was worked round at another (N).
struct RunPlan {
    double tension = 0.0;
    double worked = 0.0;
    bool even = false;  // worked round so well that every span is drawn to the knot's tension
};

// The course of a closure, step by step; bites, runs and threads by their number in the system.
struct TieBite {
    std::size_t bite;
    double tension;  // N
};
struct TieRun {
    std::size_t run;
    RunPlan plan;
};
struct CutOut {
    std::vector<std::size_t> bites;
};
// The last step: what only held the donor meanwhile is cut out. Fewer than three bites left hold no chamber.
struct Finish {
    std::vector<std::size_t> cut_out;
};
using CourseStep = std::variant<TieBite, TieRun, CutOut, Finish>;
// Bites in order, each followed by what is cut out then, the runs in order, the end.
[[nodiscard]] std::vector<CourseStep> closure_course(const std::vector<KnotPlan>& bites,
                                                     const std::vector<RunPlan>& runs = {});

struct ClosureState {
    RingMatrix edges;  // jumps, then the donor's edge
    FibreState fibres;
    std::vector<Knot> knots;
    double pressure = 0.0;
    Eigen::VectorXd tension;

    [[nodiscard]] auto jump() const { return edges.leftCols(edges.cols() / 2); }
    [[nodiscard]] auto donor_edge() const { return edges.rightCols(edges.cols() / 2); }
};

// How a numerical course went: status and summary, never an exception.
struct ClosureStatus {
    bool converged = true;
    std::string reason;        // where not converged
    int iterations = 0;        // Newton steps, all solves together
    int most_iterations = 0;   // Newton steps of the hardest solve
    int inner_iterations = 0;  // of conjugate gradients
    int inner_limited = 0;     // Newton steps whose conjugate gradients ended at their limit …
    int inner_curved = 0;      // … or where the energy does not curve upward
    double residual = 0.0;     // largest at the end of a solve
    bool settled = true;       // did friction and fluid come to rest in every solve?
};

class Closure {
  public:
    // EA: stiffness of the thread (N). All references must outlive the closure.
    Closure(const ClosureSystem& system, const WoundInterface& interface, double thread_EA,
            const SolveOptions& options = {});
    // The same with a solver of the caller's, built for this system and interface: tests hold solvers
    // against each other with it.
    Closure(const ClosureSystem& system, const WoundInterface& interface, double thread_EA,
            std::unique_ptr<ClosureSolver> solver);

    [[nodiscard]] const ClosureState& state() const { return state_; }
    void restore(const ClosureState& state) { state_ = state; }
    [[nodiscard]] const ClosureStatus& status() const { return status_; }
    [[nodiscard]] const WoundInterface& interface() const { return *interface_; }
    [[nodiscard]] const ClosureSystem& system() const { return *system_; }

    // One step of a course: a bite drawn to its tension and locked, a run likewise, all its spans at once, bites cut
    // out at once. Ends at tying pressure. False: see status().
    bool take(const CourseStep& next);
    // The whole course.
    bool tie(const std::vector<KnotPlan>& bites, const std::vector<RunPlan>& runs = {});
    // Goes on from the state of a closure that had the first of this one's threads.
    void take_over(const ClosureState& earlier);
    // Brings the chamber to a pressure in one step, from whatever it is now. More than the model's highest pressure is
    // refused: the eye has no balance there that could be told.
    bool fill(double pressure);
    // The same in steps small enough for friction to follow its path.
    bool fill_in_steps(double pressure);
    // One step to see whether the wound holds: where it does not, water may still be running, which is no fault.
    bool try_pressure(double pressure);
    // Does the last step's end hardly change any more with friction and fluid? Where it does, it is no result.
    bool at_rest();
    // Draws one tied bite anew to a tension, at the present pressure, and locks it again; the others keep
    // their length.
    bool redraw(std::size_t bite, double tension);
    // All tensions prescribed at once at one pressure, every fibre held from the undeformed place, no
    // bound on friction: the verification cases.
    bool prescribe(const std::vector<double>& tensions, double pressure);

    // Force of the foundation over the thrust of the chamber (p π a²): must be negligible.
    [[nodiscard]] double foundation_share() const;

  private:
    bool step(const TieBite& one);
    bool step(const TieRun& one);
    bool step(const CutOut& some);
    bool step(const Finish& end);
    bool settle(double pressure, bool friction, bool fluid);
    // The same as a part of the course: where it came to no full rest, the status says so.
    bool advance(double pressure, bool friction, bool fluid);
    // False, with the reason in the status.
    bool fail(std::string reason);
    // At tying pressure and with friction, as so many bites in place allow.
    bool settle_as_tied();
    // Threads side by side, at the balance just found.
    void lock(std::size_t first, std::size_t count);
    // Friction in the bites of runs: bounds of the next pass, and how much they changed; at the end of a load step
    // what slid becomes the spans' own length.
    double update_grips();
    void keep_slid();
    [[nodiscard]] std::size_t bites_in_place() const;
    [[nodiscard]] const ReducedSystem& reduced_at(double pressure);
    [[nodiscard]] double wet_fibres(double pressure);
    [[nodiscard]] auto jumps_now() const { return points_.leftCols(interface_->points()); }

    const ClosureSystem* system_;
    const WoundInterface* interface_;
    Threads threads_;
    std::unique_ptr<ClosureSolver> solver_;
    RingTransform transform_;
    ClosureState state_;
    RingMatrix points_;           // the edges at the ring's points, of the last pass
    ThreadResponse threads_now_;  // of the last question
    ClosureStatus status_;
    double last_change_ = 0.0;  // of friction and fluid, in the last pass of the last settling
    ReducedSystem reduced_;     // the last one asked for; empty before
};

}  // namespace graftwright
