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
    std::vector<double> tension_mN;  // by bite, chamber filled; removed bites 0
    std::vector<SealPlace> profile;
    WoundTest wound;
};

// Bites with their loads on the wound, which closures that differ in one bite share.
struct PlannedBite {
    Bite bite;
    std::shared_ptr<const BiteLoads> loads;
};

[[nodiscard]] PlannedBite plan_bite(const ScenarioModel& model, const Bite& bite, double donor_turn);
// The same, to the last bit, and cheaper than one by one.
[[nodiscard]] std::vector<PlannedBite> plan_bites(const ScenarioModel& model, const std::vector<Bite>& bites,
                                                  double donor_turn);

struct MeasureOptions {
    bool irregularity = true;
    bool leak = true;
    // This bite is drawn anew to the median tension of the others once the chamber is filled, and then the
    // rest is measured; not together with `leak`, which starts from the knots as they were tied.
    std::optional<std::size_t> redraw;
};

[[nodiscard]] ClosureMeasures measure_closure(const ScenarioModel& model, const std::vector<PlannedBite>& bites,
                                              double donor_turn, const MeasureOptions& options = {});

}  // namespace graftwright
