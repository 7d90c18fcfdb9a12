#include "score/scorecard.h"

#include <algorithm>
#include <cmath>
#include <mutex>

#include "base/on_threads.h"
#include "score/bites_in_order.h"
#include "score/ideal_twin.h"

namespace graftwright {
namespace {

std::optional<BiteShare> share_of(const ClosureMeasures& attempt, const ClosureMeasures& with_twin) {
    if (!with_twin.status.converged || !with_twin.keratometry) return std::nullopt;
    BiteShare share;
    share.delta = attempt.keratometry->power - with_twin.keratometry->power;
    const Keratometry reading = keratometry_of_vector(share.delta);
    share.share_D = reading.cylinder_D;
    share.share_axis_deg = reading.steep_axis_deg;
    share.share_leak_mmHg = with_twin.wound.leak_pressure_mmHg - attempt.wound.leak_pressure_mmHg;
    return share;
}

}  // namespace

std::string Scorecard::reason() const {
    if (!attempt.status.converged) return attempt.status.reason;
    if (!attempt.keratometry) return "the keratometer's ring does not fall on the donor";
    return "";
}

Scorecard score_attempt(const ScenarioModel& model, const Attempt& attempt, const ScoreOptions& options) {
    Scorecard card;
    const Scenario& scenario = model.scenario();
    const std::vector<OrderedBite> bites = bites_in_order(attempt);
    card.scenario = scenario.id;
    card.bite_count = bites_in_eye(attempt);
    card.shares.resize(bites.size());
    const double turn = donor_turn(bites);
    const auto [twin_bites, twin_runs] = bites_and_runs(ideal_twins(scenario, bites), attempt.runs);
    PlannedClosure planned, planned_twins;
    on_threads(2, options.threads, [&](std::size_t i) {
        (i == 0 ? planned : planned_twins) = i == 0 ? plan_closure(model, attempt.bites, attempt.runs, turn)
                                                    : plan_closure(model, twin_bites, twin_runs, turn);
    });

    for (PlannedRun& run : planned_twins.runs) run.even = true;

    std::vector<std::size_t> asked;
    for (std::size_t b = 0; options.shares && b < bites.size(); ++b) {
        if (!bites[b].removed) asked.push_back(b);
    }
    ClosureMeasures ideal;
    std::mutex report;
    std::size_t done = 0;
    const auto count_one = [&](std::size_t all) {
        const std::lock_guard<std::mutex> lock(report);
        ++done;
        if (options.progress) options.progress(done, all);
    };
    MeasureOptions whole, of_ideal;
    if (options.marks_only) {
        whole.irregularity = scenario.pass.hoa_rms_um.has_value();
        of_ideal.irregularity = of_ideal.leak = false;
    }
    // The attempt and its ideal first: shares are worth nothing without them.
    on_threads(2, options.threads, [&](std::size_t i) {
        if (i == 0) {
            card.attempt = measure_closure(model, planned, whole);
        } else {
            ideal = measure_closure(model, planned_twins, of_ideal);
        }
        count_one(2 + asked.size());
    });
    card.bites = bite_metrics(scenario, bites, card.converged() ? card.attempt.tension_mN : std::vector<double>());
    if (!card.converged()) return card;

    MeasureOptions for_shares;
    for_shares.irregularity = false;
    std::vector<std::vector<PlannedRun>> swaps(asked.empty() ? 0 : planned.runs.size());
    on_threads(swaps.size(), options.threads,
               [&](std::size_t r) { swaps[r] = plan_swaps(model, planned.runs[r], twin_runs[r].bites, turn); });
    on_threads(asked.size(), options.threads, [&](std::size_t i) {
        const std::size_t b = asked[i];
        PlannedClosure swapped = planned;
        if (bites[b].run) {
            swapped.runs[*bites[b].run] = swaps[*bites[b].run][bites[b].in_run];
        } else {
            swapped.bites[b] = planned_twins.bites[b];
        }
        card.shares[b] = share_of(card.attempt, measure_closure(model, swapped, for_shares));
        count_one(2 + asked.size());
    });
    if (ideal.status.converged && ideal.keratometry) {
        card.ideal = std::move(ideal);
        card.score = apply_rules(scenario, attempt, card.attempt, *card.ideal, card.bites);
        const bool all_shared = !asked.empty() && std::all_of(asked.begin(), asked.end(), [&](std::size_t b) {
            return card.shares[b].has_value();
        });
        if (all_shared) {
            PowerVector left = card.attempt.keratometry->power - card.ideal->keratometry->power;
            for (const std::size_t b : asked) left = left - card.shares[b]->delta;
            card.interactions = left;
        }
    }
    return card;
}

}  // namespace graftwright
