#include "study/study.h"

#include <algorithm>
#include <memory>
#include <mutex>

#include "base/on_threads.h"
#include "score/pass_marks.h"
#include "study/simulated_hand.h"

namespace graftwright {
namespace {

void read_wound(const ClosureMeasures& measures, Trial& trial) {
    trial.cylinder_D = measures.keratometry->cylinder_D;
    trial.steep_axis_deg = measures.keratometry->steep_axis_deg;
    trial.mean_D = measures.keratometry->mean_D;
    trial.leak_pressure_mmHg = measures.wound.leak_pressure_mmHg;
    trial.posterior_gape_um = max_posterior_gape_um(measures);
    trial.step_um = max_step_um(measures);
}

void read_score(const Scorecard& card, Trial& trial) {
    trial.flattening_D = card.ideal->keratometry->mean_D - card.attempt.keratometry->mean_D;
    trial.total = card.score->total;
    for (const PartScore& part : card.score->parts) {
        std::optional<double>& points = part.part == Part::optics       ? trial.optics
                                        : part.part == Part::seal       ? trial.seal
                                        : part.part == Part::apposition ? trial.apposition
                                                                        : trial.technique;
        points = part.points;
    }
    trial.passed = card.score->passed;
    for (const PassMark& mark : card.score->marks)
        if (!mark.met() && trial.verdict.empty()) trial.verdict = mark_words(mark);
}

void read_shares(const Scorecard& card, Trial& trial) {
    for (std::size_t b = 0; b < card.shares.size(); ++b) {
        if (!card.shares[b] || (trial.worst_share_D && card.shares[b]->share_D <= *trial.worst_share_D)) continue;
        trial.worst_bite = b;
        trial.worst_share_D = card.shares[b]->share_D;
    }
}

void close_wound(const ScenarioModel& model, const Attempt& attempt, bool shares, Trial& trial) {
    if (attempt.bites.empty() && attempt.runs.empty()) {
        trial.verdict = "nothing was tied";
        return;
    }
    ScoreOptions options;
    options.shares = shares;
    options.marks_only = true;
    options.threads = 1;
    const Scorecard card = score_attempt(model, attempt, options);
    trial.verdict = card.reason();
    if (!card.converged()) return;
    read_wound(card.attempt, trial);
    if (card.score) read_score(card, trial);
    read_shares(card, trial);
}

void answer_drill(const DrillJudge& judge, const Attempt& attempt, const std::optional<DrillAnswer>& answer,
                  Trial& trial) {
    const DrillVerdict verdict = judge.judge(attempt, answer);
    trial.passed = verdict.passed;
    trial.verdict = verdict.sentence;
    if (verdict.after && verdict.after->keratometry) read_wound(*verdict.after, trial);
}

}  // namespace

TrialRange trials_of_shard(int trials, int shard, int shards) {
    const auto before = [&](int part) { return static_cast<int>(static_cast<std::int64_t>(trials) * part / shards); };
    return {1 + before(shard - 1), 1 + before(shard)};
}

std::vector<Trial> run_study(const ScenarioModel& model, const StudyOptions& options) {
    const Scenario& scenario = model.scenario();
    std::unique_ptr<const DrillJudge> judge;
    if (scenario.kind != ScenarioKind::closure) judge = std::make_unique<const DrillJudge>(model, options.jobs);
    const TrialRange range = trials_of_shard(options.trials, options.shard, options.shards);
    std::vector<Trial> trials(static_cast<std::size_t>(std::max(0, range.end - range.first)));
    std::mutex report;
    std::size_t done = 0;
    on_threads(trials.size(), options.jobs, [&](std::size_t i) {
        Trial& trial = trials[i];
        trial.number = range.first + static_cast<int>(i);
        RandomStream random(options.seed, static_cast<std::uint64_t>(trial.number));
        const Attempt attempt = simulated_attempt(scenario, options.skill, random);
        trial.bites = bites_in_eye(attempt);
        std::optional<DrillAnswer> answer;
        if (asks_a_question(scenario.kind)) answer = simulated_answer(scenario, *judge, options.skill, random);
        if (judge)
            answer_drill(*judge, attempt, answer, trial);
        else
            close_wound(model, attempt, options.shares, trial);
        const std::lock_guard<std::mutex> lock(report);
        ++done;
        if (options.progress) options.progress(done, trials.size());
    });
    return trials;
}

int count_passed(const std::vector<Trial>& trials) {
    return static_cast<int>(
        std::count_if(trials.begin(), trials.end(), [](const Trial& trial) { return trial.passed; }));
}

}  // namespace graftwright
