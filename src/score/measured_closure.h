// One closure from first knot to answer: tied in order, filled, read by the keratometer, leak-tested.
//
// Optics and tensions are those of the chamber at the scenario's pressure, even where the wound could
// not hold it. A closure that found no balance, or that rests on the foundation instead of on its
// bites, says so and carries no numbers.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "leak/wound_test.h"
#include "optics/keratometry.h"
#include "optics/surface.h"
#include "score/scenario_model.h"

namespace graftwright {

struct ClosureMeasures {
    ClosureStatus status;
    // Present where status.converged:
    std::shared_ptr<const AnteriorSurface> front;  // what the keratometer read; for maps and rings
    std::optional<Keratometry> keratometry;        // empty too where the donor does not reach the ring
    std::optional<double> hoa_rms_um;
    // By bite in the order of bites_in_order, chamber filled; removed bites 0. Of a run's bite: the mean of the spans
    // that enter and leave it.
    std::vector<double> tension_mN;
    std::vector<std::vector<double>> span_mN;  // of each run, by span (run_spans)
    std::vector<SealPlace> profile;
    WoundTest wound;
};

// Bites with their loads on the wound, which closures that differ in one bite share. donor_turn (rad): of the donor's
// own frame in the eye.
struct PlannedBite {
    Bite bite;
    std::shared_ptr<const ThreadLoads> loads;
};

// A running thread with its spans' loads.
struct PlannedRun {
    Run run;
    std::vector<std::shared_ptr<const ThreadLoads>> spans;
    bool even = false;  // the ideal's: all spans drawn to the knot's tension, whatever the hand did with the slack
};
struct PlannedClosure {
    std::vector<PlannedBite> bites;
    std::vector<PlannedRun> runs;
    double donor_turn = 0.0;  // that all were planned with
};

[[nodiscard]] PlannedBite plan_bite(const ScenarioModel& model, const Bite& bite, double donor_turn);
// The same, to the last bit, and cheaper than one by one.
[[nodiscard]] std::vector<PlannedBite> plan_bites(const ScenarioModel& model, const std::vector<Bite>& bites,
                                                  double donor_turn);
[[nodiscard]] PlannedRun plan_run(const ScenarioModel& model, const Run& run, double donor_turn);
[[nodiscard]] PlannedClosure plan_closure(const ScenarioModel& model, const std::vector<Bite>& bites,
                                          const std::vector<Run>& runs, double donor_turn);
// With the turn that these bites give the donor.
[[nodiscard]] inline PlannedClosure plan_closure(const ScenarioModel& model, const std::vector<Bite>& bites,
                                                 const std::vector<Run>& runs = {}) {
    return plan_closure(model, bites, runs, donor_turn(bites, runs));
}
// Each run with one of its bites in the place of its twin, bite by bite: the others' spans are shared.
[[nodiscard]] std::vector<PlannedRun> plan_swaps(const ScenarioModel& model, const PlannedRun& run,
                                                 const std::vector<RunBite>& twins, double donor_turn);

struct MeasureOptions {
    bool irregularity = true;
    bool leak = true;
    // This bite is drawn anew to the median tension of the others once the chamber is filled, and then the
    // rest is measured; not together with `leak`, which starts from the knots as they were tied.
    std::optional<std::size_t> redraw;
};

[[nodiscard]] ClosureMeasures measure_closure(const ScenarioModel& model, const PlannedClosure& plan,
                                              const MeasureOptions& options = {});

// A planned closure as the mechanics take it, nothing tied yet. The model must outlive it; it is not moved.
class PreparedClosure {
  public:
    PreparedClosure(const ScenarioModel& model, const PlannedClosure& plan);
    PreparedClosure(const PreparedClosure&) = delete;
    PreparedClosure& operator=(const PreparedClosure&) = delete;

    Closure closure() const { return {system, interface, thread_EA_}; }  // this must outlive it
    [[nodiscard]] std::vector<const ThreadPath*> paths() const;

    ClosureSystem system;
    WoundInterface interface;
    std::vector<KnotPlan> bites;
    std::vector<RunPlan> runs;
    double donor_turn;

  private:
    double thread_EA_;
};
// Tensions by bite and by span, mN, as ClosureMeasures has them.
void read_tensions(const ClosureSystem& system, const Eigen::VectorXd& tension, std::vector<double>& by_bite_mN,
                   std::vector<std::vector<double>>& by_span_mN);

}  // namespace graftwright
