#include "score/drill.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/angle.h"
#include "base/check.h"
#include "base/on_threads.h"
#include "base/statistics.h"
#include "base/units.h"
#include "base/words.h"
#include "files/limits.h"
#include "score/bites_in_order.h"
#include "score/hand_marks.h"
#include "score/ideal_twin.h"
#include "score/pass_marks.h"

namespace graftwright {
namespace {

MeasureOptions without_irregularity() {
    MeasureOptions options;
    options.irregularity = false;
    return options;
}

bool solved(const ClosureMeasures& measures) { return measures.status.converged && measures.keratometry; }

template <typename Value>
double median_of(const std::vector<Bite>& bites, Value value) {
    std::vector<double> values;
    for (const Bite& bite : bites)
        if (!bite.removed) values.push_back(value(bite));
    return median(std::move(values));
}

// A careful hand's bite at a place, like the others in length and tension.
Bite new_bite(const Scenario& scenario, double deg, std::optional<double> tension_mN) {
    const std::vector<Bite>& others = scenario.start.bites;
    Bite bite;
    bite.host_deg = deg;
    bite.graft_deg = deg - deg_from_rad(donor_turn(others));
    bite.graft_depth_um = kTwinDepth * scenario.graft.thickness_um;
    bite.host_depth_um = kTwinDepth * scenario.eye.rim_thickness_um;
    bite.graft_bite_mm = median_of(others, [](const Bite& b) { return b.graft_bite_mm; });
    bite.host_bite_mm = median_of(others, [](const Bite& b) { return b.host_bite_mm; });
    bite.tension_mN = tension_mN.value_or(median_of(others, [](const Bite& b) { return b.tension_mN; }));
    bite.tension_mN = std::clamp(bite.tension_mN, 0.0, scenario.thread.break_mN);
    return bite;
}

bool in_place(const std::vector<Bite>& bites, std::size_t bite) { return bite < bites.size() && !bites[bite].removed; }

std::string passed_or_not(bool passed, const std::string& why) {
    return (passed ? "Passed: " : "Not yet: ") + why + ".";
}

// Every mark in words; true where all are met.
bool tell(DrillVerdict& verdict) {
    bool all = true;
    for (const PassMark& mark : verdict.marks) {
        verdict.words.push_back(mark_words(mark));
        all = all && mark.met();
    }
    return all;
}

std::string first_missed(const DrillVerdict& verdict, const std::string& otherwise) {
    for (const PassMark& mark : verdict.marks)
        if (!mark.met()) return mark_words(mark);
    return otherwise;
}

DrillVerdict unsolved(DrillVerdict verdict, const ClosureMeasures& measures) {
    const std::string reason =
        measures.status.converged ? "the keratometer's ring does not fall on the donor" : measures.status.reason;
    verdict.passed = false;
    verdict.sentence = passed_or_not(false, reason);
    return verdict;
}

std::string change_words(const ClosureMeasures& before, const ClosureMeasures& after) {
    return fmt::format("cylinder {:.2f} → {:.2f} D; leak pressure {:.1f} → {:.1f} mmHg, weakest at {}",
                       before.keratometry->cylinder_D, after.keratometry->cylinder_D, before.wound.leak_pressure_mmHg,
                       after.wound.leak_pressure_mmHg, place_words(after.wound.weakest_deg));
}

}  // namespace

std::string mark_words(const PassMark& mark) {
    return fmt::format("{} {}, {} {:.2f} asked: {}", mark.name(),
                       with_unit(shown_number(mark.measured, 2), mark.unit()), mark.at_least() ? "at least" : "at most",
                       mark.limit, mark.met() ? "met" : "missed");
}

std::string verdict_text(const DrillVerdict& verdict) {
    std::string text = "drill        " + verdict.sentence + "\n";
    for (const std::string& line : verdict.words) text += "             " + line + "\n";
    return text;
}

DrillJudge::DrillJudge(const ScenarioModel& model, int threads) : model_(&model) {
    const Scenario& scenario = model.scenario();
    GRAFTWRIGHT_CHECK(scenario.kind != ScenarioKind::closure, "a closure is scored, not judged");
    if (!asks_a_question(scenario.kind)) return;
    const std::vector<Bite>& bites = scenario.start.bites;
    const PlannedClosure planned = plan_closure(model, bites);
    start_ = std::make_shared<const ClosureMeasures>(measure_closure(model, planned, without_irregularity()));
    if (scenario.kind != ScenarioKind::read_rings || !solved(*start_)) return;
    for (std::size_t b = 0; b < bites.size(); ++b) {
        if (bites[b].removed) continue;
        std::vector<double> others;
        for (std::size_t o = 0; o < bites.size(); ++o)
            if (o != b && !bites[o].removed) others.push_back(start_->tension_mN[o]);
        readings_.push_back({b, start_->tension_mN[b], median(std::move(others)), std::nullopt, nullptr});
    }
    on_threads(readings_.size(), threads, [&](std::size_t i) {
        MeasureOptions options = without_irregularity();
        options.leak = false;
        options.redraw = readings_[i].bite;
        BiteReading& reading = readings_[i];
        reading.drawn = std::make_shared<const ClosureMeasures>(measure_closure(model, planned, options));
        if (solved(*reading.drawn)) reading.cylinder_D = reading.drawn->keratometry->cylinder_D;
    });
}

DrillVerdict DrillJudge::judge(const Attempt& attempt, const std::optional<DrillAnswer>& given) const {
    const Scenario& scenario = model_->scenario();
    if (!asks_a_question(scenario.kind)) return judge_hand(attempt);
    DrillVerdict verdict;
    verdict.before = start_;
    if (!solved(*start_)) return unsolved(std::move(verdict), *start_);
    const std::optional<DrillAnswer> answer = given ? given : answer_in(attempt);
    const std::vector<Bite>& posed = scenario.start.bites;
    const bool changed = attempt.bites != posed || !attempt.runs.empty();
    const bool done_by_hand = attempt.bites.size() >= posed.size() && changed;
    const std::string wrong = asked_wrongly(answer.value_or(DrillAnswer{}));
    const bool needs_answer = scenario.kind != ScenarioKind::remove || !done_by_hand;
    if ((needs_answer && !answer) || !wrong.empty()) {
        verdict.sentence = passed_or_not(false, wrong.empty() ? "nothing was answered" : wrong);
        return verdict;
    }
    if (scenario.kind == ScenarioKind::read_rings) return judge_rings(*answer);
    const std::vector<Bite> bites = done_by_hand ? attempt.bites : bites_as_answered(scenario, *answer);
    const std::vector<Run> runs = done_by_hand ? attempt.runs : std::vector<Run>();
    return scenario.kind == ScenarioKind::find_leak ? judge_leak(bites, runs, *answer) : judge_removal(bites, runs);
}

std::string DrillJudge::asked_wrongly(const DrillAnswer& answer) const {
    const std::vector<Bite>& bites = model_->scenario().start.bites;
    const bool named = (!answer.bite || in_place(bites, *answer.bite)) &&
                       (!answer.retie || in_place(bites, *answer.retie)) &&
                       std::all_of(answer.remove.begin(), answer.remove.end(),
                                   [&](std::size_t bite) { return in_place(bites, bite); });
    if (!named) return "the bite that was named does not lie in the eye";
    const bool taken = answer.add_at_deg && std::any_of(bites.begin(), bites.end(), [&](const Bite& bite) {
                           return !bite.removed && one_place(bite.host_deg, *answer.add_at_deg);
                       });
    return taken ? "there is a bite already where one more was to go" : "";
}

DrillVerdict DrillJudge::judge_hand(const Attempt& attempt) const {
    const Scenario& scenario = model_->scenario();
    DrillVerdict verdict;
    ask(verdict.marks, Mark::bites_in_place, static_cast<double>(scenario.task.bites),
        static_cast<double>(bites_in_eye(attempt)));
    const std::vector<OrderedBite> bites = bites_in_order(attempt);
    if (!bites.empty())
        for (const PassMark& mark : hand_marks(scenario, attempt, bite_metrics(scenario, bites, {})))
            verdict.marks.push_back(mark);
    verdict.passed = tell(verdict);
    verdict.sentence = passed_or_not(verdict.passed, first_missed(verdict, "every mark is met"));
    return verdict;
}

DrillVerdict DrillJudge::judge_rings(const DrillAnswer& answer) const {
    DrillVerdict verdict;
    verdict.before = start_;
    if (!answer.bite || !answer.loosen) {
        verdict.sentence = passed_or_not(false, "name the bite, and say loosen or tighten");
        return verdict;
    }
    const std::vector<Bite>& bites = model_->scenario().start.bites;
    const BiteReading* named = nullptr;
    const BiteReading* best = nullptr;
    for (const BiteReading& reading : readings_) {
        if (reading.bite == *answer.bite) named = &reading;
        if (reading.cylinder_D && (best == nullptr || *reading.cylinder_D < *best->cylinder_D)) best = &reading;
    }
    if (best == nullptr || named == nullptr || !named->cylinder_D) {
        verdict.sentence = passed_or_not(false, "the closure finds no balance with that bite drawn anew");
        return verdict;
    }
    const auto told = [&](const BiteReading& reading) {
        return fmt::format("bite at {} drawn from {:.1f} to {:.1f} mN like the others: cylinder {:.2f} → {:.2f} D",
                           place_words(bites[reading.bite].host_deg), reading.tension_mN, reading.others_mN,
                           start_->keratometry->cylinder_D, *reading.cylinder_D);
    };
    const bool right_sense = *answer.loosen == (named->tension_mN > named->others_mN);
    verdict.marks = {{Mark::cylinder_over_best, kRingTolerance_D, *named->cylinder_D - *best->cylinder_D}};
    verdict.words = {told(*named)};
    verdict.after = named->drawn;
    const bool right_bite = tell(verdict);
    verdict.passed = right_bite && right_sense;
    if (!right_bite) verdict.words.push_back("best: " + told(*best));
    verdict.sentence = passed_or_not(
        verdict.passed, right_bite && !right_sense ? (*answer.loosen ? std::string("the right bite, but it is loose")
                                                                     : std::string("the right bite, but it is tight"))
                                                   : told(*named));
    return verdict;
}

DrillVerdict DrillJudge::judge_leak(const std::vector<Bite>& bites, const std::vector<Run>& runs,
                                    const DrillAnswer& answer) const {
    const PassMarks& pass = model_->scenario().pass;
    DrillVerdict verdict;
    verdict.before = start_;
    if (!answer.at_deg) {
        verdict.sentence = passed_or_not(false, "say where it leaks");
        return verdict;
    }
    const auto after = std::make_shared<const ClosureMeasures>(
        measure_closure(*model_, plan_closure(*model_, bites, runs), without_irregularity()));
    verdict.after = after;
    const double off = apart_deg(*answer.at_deg, start_->wound.weakest_deg);
    ask(verdict.marks, Mark::off_weakest_place, kLeakPlace_deg, off);
    if (!solved(*after)) return unsolved(std::move(verdict), *after);
    ask(verdict.marks, Mark::leak_after_repair, pass.leak_pressure_mmHg, after->wound.leak_pressure_mmHg);
    ask(verdict.marks, Mark::cylinder_after_repair, pass.cylinder_D, after->keratometry->cylinder_D);
    verdict.words = {fmt::format("it leaks first at {}", place_words(start_->wound.weakest_deg)),
                     change_words(*start_, *after)};
    verdict.passed = tell(verdict);
    verdict.sentence = passed_or_not(verdict.passed, first_missed(verdict, change_words(*start_, *after)));
    return verdict;
}

DrillVerdict DrillJudge::judge_removal(const std::vector<Bite>& bites, const std::vector<Run>& runs) const {
    const Scenario& scenario = model_->scenario();
    DrillVerdict verdict;
    verdict.before = start_;
    const auto after = std::make_shared<const ClosureMeasures>(
        measure_closure(*model_, plan_closure(*model_, bites, runs), without_irregularity()));
    verdict.after = after;
    if (!solved(*after)) return unsolved(std::move(verdict), *after);
    const double least = std::max(scenario.eye.pressure_mmHg, scenario.pass.leak_pressure_mmHg.value_or(0.0));
    ask(verdict.marks, Mark::leak_after_removal, least, after->wound.leak_pressure_mmHg);
    ask(verdict.marks, Mark::cylinder_after_removal, scenario.pass.cylinder_D, after->keratometry->cylinder_D);
    verdict.words = {change_words(*start_, *after)};
    verdict.passed = tell(verdict);
    verdict.sentence = passed_or_not(verdict.passed, first_missed(verdict, change_words(*start_, *after)));
    return verdict;
}

std::vector<Bite> bites_as_answered(const Scenario& scenario, const DrillAnswer& answer) {
    std::vector<Bite> bites = scenario.start.bites;
    const auto tied = static_cast<int>(bites.size());
    for (const std::size_t bite : answer.remove)
        if (bite < bites.size()) bites[bite].removed = true;
    if (answer.retie && in_place(bites, *answer.retie)) {
        bites[*answer.retie].removed = true;
        bites[*answer.retie].removed_after = tied;
        bites.push_back(new_bite(scenario, bites[*answer.retie].host_deg, answer.tension_mN));
    }
    if (answer.add_at_deg) bites.push_back(new_bite(scenario, *answer.add_at_deg, answer.tension_mN));
    return bites;
}

DrillVerdict judge_drill(const ScenarioModel& model, const Attempt& attempt, const std::optional<DrillAnswer>& answer) {
    return DrillJudge(model).judge(attempt, answer);
}

}  // namespace graftwright
