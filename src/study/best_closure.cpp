#include "study/best_closure.h"

#include <algorithm>

#include "files/reader.h"
#include "files/writer.h"
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

// Only what the mechanics can solve may reach it.
std::string why_not(const Scenario& scenario, const Attempt& attempt) {
    if (scenario.task.pattern != Pattern::interrupted || !scenario.start.runs.empty())
        return "running threads are not solved by this version";
    const Result<Attempt> held = read_attempt_for(scenario, write_attempt(attempt), "even closure");
    return held.ok() ? "" : "an even closure does not fit this eye: " + held.faults().front().message;
}

// The wound as it is handed over, where enough bites hold it.
void read_opening(const ScenarioModel& model, const Scenario& scenario, double ideal_mean_D, BestClosure& best) {
    const std::vector<Bite>& bites = scenario.start.bites;
    if (bites.empty()) return;
    const double turn = donor_turn(bites);
    const ClosureMeasures opening = measure_closure(model, plan_bites(model, bites, turn), turn);
    if (opening.status.converged && opening.keratometry) best.opening = reading_of(opening, ideal_mean_D);
}

void read_ideal(const Scenario& scenario, const Attempt& attempt, const ClosureMeasures& ideal, BestClosure& best) {
    Attempt twins = attempt;
    twins.bites = ideal_twins(scenario, attempt.bites);
    const std::vector<BiteMetrics> metrics = bite_metrics(scenario, twins.bites, ideal.tension_mN);
    const Score score = apply_rules(scenario, twins, ideal, ideal, metrics);
    best.ideal = reading_of(ideal, ideal.keratometry->mean_D);
    best.ideal_marks = score.marks;
    best.ideal_passes = score.passed;
    const bool leak_counts = scenario.kind == ScenarioKind::closure || asks_a_question(scenario.kind);
    if (leak_counts && scenario.pass.leak_pressure_mmHg && best.ideal->leak_pressure_mmHg > 0.0)
        best.leak_asked = *scenario.pass.leak_pressure_mmHg / best.ideal->leak_pressure_mmHg;
}

void read_card(const ScenarioModel& model, const Scenario& scenario, const Attempt& attempt, BestClosure& best) {
    ScoreOptions options;
    options.shares = false;
    options.threads = 1;
    const Scorecard card = score_attempt(model, attempt, options);
    best.reason = card.reason();
    if (!card.converged()) return;
    if (!card.ideal) {
        best.reason = "the ideal twin finds no balance in this eye";
        return;
    }
    read_ideal(scenario, attempt, *card.ideal, best);
    best.hand = reading_of(card.attempt, best.ideal->mean_D);
    best.hand_marks = card.score->marks;
    best.hand_passes = card.score->passed;
    read_opening(model, scenario, best.ideal->mean_D, best);
}

void judge(const ScenarioModel& model, const Scenario& scenario, const Attempt& attempt, RandomStream& random,
           BestClosure& best) {
    const DrillJudge judge(model, 1);
    std::optional<DrillAnswer> answer;
    if (asks_a_question(scenario.kind)) answer = simulated_answer(scenario, judge, faultless_hand(), random);
    const DrillVerdict verdict = judge.judge(attempt, answer);
    best.verdict = verdict.sentence;
    best.hand_marks = verdict.marks;
    best.hand_passes = verdict.passed;
}

}  // namespace

BestClosure best_closure(const Scenario& level) {
    const Scenario scenario = without_haste_and_tremor(level);
    RandomStream random(1, 1);  // the faultless hand's errors are all nought
    Attempt attempt = simulated_attempt(scenario, faultless_hand(), random);
    attempt.runs = scenario.start.runs;
    BestClosure best;
    best.reason = why_not(scenario, attempt);
    if (!best.reason.empty()) return best;
    const ScenarioModel model(scenario);
    read_card(model, scenario, attempt, best);
    if (scenario.kind != ScenarioKind::closure) judge(model, scenario, attempt, random, best);
    return best;
}

}  // namespace graftwright
