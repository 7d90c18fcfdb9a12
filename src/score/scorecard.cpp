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

// Tells how many closures are solved, from any thread.
class SolvedCount {
  public:
    SolvedCount(std::size_t all, const ScoreOptions& options) : all_(all), options_(&options) {}
    void one_more() {
        const std::lock_guard<std::mutex> lock(mutex_);
        ++done_;
        if (options_->progress) options_->progress(done_, all_);
    }

  private:
    std::mutex mutex_;
    std::size_t done_ = 0, all_;
    const ScoreOptions* options_;
};

// The attempt with its bite `b` replaced by the twin; a bite of a run by one of the run's swaps.
PlannedClosure with_twin(PlannedClosure attempt, std::size_t b, const OrderedBite& bite, const PlannedClosure& twins,
                         const std::vector<std::vector<PlannedRun>>& swaps) {
    if (bite.run) {
        attempt.runs[*bite.run] = swaps[*bite.run][bite.in_run];
    } else {
        attempt.bites[b] = twins.bites[b];
    }
    return attempt;
}

// Empty unless each of these bites, all that lie in the eye, has its share.
std::optional<PowerVector> find_interactions(const Scorecard& card, const std::vector<std::size_t>& bites) {
    const auto shared = [&](std::size_t b) { return card.shares[b].has_value(); };
    if (bites.empty() || !std::all_of(bites.begin(), bites.end(), shared)) return std::nullopt;
    PowerVector left = card.attempt.keratometry->power - card.ideal->keratometry->power;
    for (const std::size_t b : bites) left = left - card.shares[b]->delta;
    return left;
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
    SolvedCount solved(2 + asked.size(), options);
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
        solved.one_more();
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
        const PlannedClosure swapped = with_twin(planned, b, bites[b], planned_twins, swaps);
        card.shares[b] = share_of(card.attempt, measure_closure(model, swapped, for_shares));
        solved.one_more();
    });
    if (ideal.status.converged && ideal.keratometry) {
        card.ideal = std::move(ideal);
        card.score = apply_rules(scenario, attempt, card.attempt, *card.ideal, card.bites);
        card.interactions = find_interactions(card, asked);
    }
    return card;
}

}  // namespace graftwright
