#include "study/best_closure.h"

#include <algorithm>
#include <tuple>

#include "files/reader.h"
#include "files/writer.h"
#include "score/bites_in_order.h"
#include "score/drill.h"
#include "score/ideal_twin.h"
#include "score/scorecard.h"
#include "study/simulated_hand.h"

namespace graftwright {
namespace {

ClosureReading reading_of(const ClosureMeasures& measures, double ideal_mean_D) {
    ClosureReading reading;
    reading.cylinder_D = measures.keratometry->cylinder_D;
    reading.steep_axis_deg = measures.keratometry->steep_axis_deg;
    reading.mean_D = measures.keratometry->mean_D;
    reading.flattening_D = ideal_mean_D - reading.mean_D;
    reading.leak_pressure_mmHg = measures.wound.leak_pressure_mmHg;
    reading.leak_capped = measures.wound.capped;
    reading.step_um = max_step_um(measures);
    reading.posterior_gape_um = max_posterior_gape_um(measures);
    return reading;
}

Scenario without_haste_and_tremor(Scenario scenario) {
    scenario.task.time_limit_s.reset();
    scenario.task.hand.tremor_um = 0.0;
    return scenario;
}

// What is drawn from it is multiplied by nought.
RandomStream no_errors() { return {1, 1}; }

Attempt attempt_of(const Scenario& scenario, const HandSkill& skill) {
    RandomStream random = no_errors();
    return simulated_attempt(scenario, skill, random);
}

// Only what the mechanics can solve may reach it.
std::string why_not(const Scenario& scenario, const Attempt& attempt) {
    const Result<Attempt> held = read_attempt_for(scenario, write_attempt(attempt), "even closure");
    return held.ok() ? "" : "an even closure does not fit this eye: " + held.faults().front().message;
}

// The wound as it is handed over, where enough bites hold it.
void read_opening(const ScenarioModel& model, const Scenario& scenario, double ideal_mean_D, BestClosure& best) {
    const Start& start = scenario.start;
    if (start.bites.empty() && start.runs.empty()) return;
    const ClosureMeasures opening = measure_closure(model, plan_closure(model, start.bites, start.runs));
    if (opening.status.converged && opening.keratometry) best.opening = reading_of(opening, ideal_mean_D);
}

void read_ideal(const Scenario& scenario, const Attempt& attempt, const ClosureMeasures& ideal, BestClosure& best) {
    Attempt twins = attempt;
    const std::vector<OrderedBite> ordered = ideal_twins(scenario, bites_in_order(attempt));
    std::tie(twins.bites, twins.runs) = bites_and_runs(ordered, attempt.runs);
    const std::vector<BiteMetrics> metrics = bite_metrics(scenario, ordered, ideal.tension_mN);
    const Score score = apply_rules(scenario, twins, ideal, ideal, metrics);
    best.ideal = reading_of(ideal, ideal.keratometry->mean_D);
    best.ideal_marks = score.marks;
    best.ideal_passes = score.passed;
    const bool leak_counts = scenario.kind == ScenarioKind::closure || asks_a_question(scenario.kind);
    if (leak_counts && scenario.pass.leak_pressure_mmHg && best.ideal->leak_pressure_mmHg > 0.0)
        best.leak_asked = *scenario.pass.leak_pressure_mmHg / best.ideal->leak_pressure_mmHg;
}

Scorecard card_of(const ScenarioModel& model, const Attempt& attempt) {
    ScoreOptions options;
    options.shares = false;
    options.threads = 1;
    return score_attempt(model, attempt, options);
}

void read_hand(const Scorecard& card, BestClosure& best) {
    if (!card.converged() || !card.ideal) return;
    best.hand = reading_of(card.attempt, card.ideal->keratometry->mean_D);
    best.hand_marks = card.score->marks;
    best.hand_passes = card.score->passed;
}

void read_closures(const ScenarioModel& model, const Attempt& even, const Attempt& answering, BestClosure& best) {
    const Scenario& scenario = model.scenario();
    const Scorecard card = card_of(model, even);
    best.reason = card.reason();
    if (best.reason.empty() && !card.ideal) best.reason = "the ideal twin finds no balance in this eye";
    if (!best.reason.empty()) return;
    read_ideal(scenario, even, *card.ideal, best);
    read_hand(answering == even ? card : card_of(model, answering), best);
    read_opening(model, scenario, best.ideal->mean_D, best);
}

void judge(const ScenarioModel& model, const Attempt& attempt, BestClosure& best) {
    const DrillJudge judge(model, 1);
    std::optional<DrillAnswer> answer;
    RandomStream random = no_errors();
    if (asks_a_question(model.scenario().kind))
        answer = simulated_answer(model.scenario(), judge, faultless_hand(), random);
    const DrillVerdict verdict = judge.judge(attempt, answer);
    best.verdict = verdict.sentence;
    best.hand_marks = verdict.marks;
    best.hand_passes = verdict.passed;
}

}  // namespace

BestClosure best_closure(const Scenario& level) {
    const Scenario scenario = without_haste_and_tremor(level);
    HandSkill answers_the_eye = faultless_hand();
    answers_the_eye.levels_fronts = answers_the_eye.counters_ovality = true;
    const Attempt even = attempt_of(scenario, faultless_hand());
    const Attempt answering = attempt_of(scenario, answers_the_eye);
    BestClosure best;
    best.reason = why_not(scenario, even);
    if (best.reason.empty()) best.reason = why_not(scenario, answering);
    if (!best.reason.empty()) return best;
    const ScenarioModel model(scenario);
    read_closures(model, even, answering, best);
    if (scenario.kind != ScenarioKind::closure) judge(model, answering, best);
    return best;
}

}  // namespace graftwright
