// What a session shows of its running threads: bites, spans, and what to do next.
#include <fmt/format.h>

#include "game/session.h"
#include "score/bites_in_order.h"

namespace graftwright {

// As last solved, where that question had this run; else what its knot holds.
double Session::run_tension_mN(std::size_t run, std::size_t number) const {
    if (run == attempt_.runs.size() && !tying_run_) return 0.0;
    const double at_knot_mN = run < attempt_.runs.size() ? attempt_.runs[run].tension_mN : tying_run_->tension_mN;
    if (!wound_ || !wound_->converged || !shown_ || run >= shown_->runs.size()) return at_knot_mN;
    if (number >= shown_->runs[run].bites.size()) return at_knot_mN;
    std::size_t b = shown_->bites.size() + number;
    for (std::size_t r = 0; r < run; ++r) b += shown_->runs[r].bites.size();
    return b < wound_->tension_mN.size() ? wound_->tension_mN[b] : at_knot_mN;
}

LaidBite Session::laid_run_bite(const BitePlace& place) const {
    const bool tied = place.in == BitePlace::In::tied_run;
    Bite bite;
    static_cast<BitePath&>(bite) = tied ? attempt_.runs[place.run].bites[place.number] : open_run_[place.number];
    bite.throws.clear();
    bite.tension_mN = tied ? attempt_.runs[place.run].tension_mN : tying_run_ ? tying_run_->tension_mN : 0.0;
    LaidBite laid = laid_as(bite);
    laid.run = place.run;
    laid.slack = !tied && !tying_run_;
    laid.tension_mN = run_tension_mN(place.run, place.number);
    if (tied) {
        laid.buried_in_host = laid_runs_[place.run].buried_in_host;
        laid.from_start = laid_runs_[place.run].from_start;
        laid.loose = laid.tension_mN < kLoose_mN;
    }
    return laid;
}

std::vector<LaidSpan> Session::laid_spans() const {
    std::vector<Run> closed = attempt_.runs;
    if (tying_run_) closed.push_back(*tying_run_);
    std::vector<LaidSpan> spans;
    std::size_t number = 0;
    for (const RunSpan& span : run_spans(attempt_.bites.size(), closed)) {
        number = spans.empty() || spans.back().run != span.run ? 0 : number + 1;
        LaidSpan laid;
        laid.from = span.from;
        laid.to = span.to;
        laid.run = span.run;
        laid.knot = span.knot;
        laid.in_hand = span.run == attempt_.runs.size();
        laid.buried_in_host = !laid.in_hand && laid_runs_[span.run].buried_in_host;
        const bool known = wound_ && wound_->converged && span.run < wound_->span_mN.size() &&
                           number < wound_->span_mN[span.run].size();
        laid.tension_mN = known ? wound_->span_mN[span.run][number] : closed[span.run].tension_mN;
        spans.push_back(laid);
    }
    if (tying_run_ || open_run_.empty()) return spans;
    const std::size_t first = bites_laid() - open_run_.size();
    for (std::size_t k = 0; k + 1 < open_run_.size(); ++k) {
        LaidSpan laid;
        laid.from = first + k;
        laid.to = first + k + 1;
        laid.run = attempt_.runs.size();
        laid.slack = true;
        spans.push_back(laid);
    }
    return spans;
}

// The open run's bites count among those that the level asks for.
std::string Session::run_prompt() const {
    const Task& task = model_->scenario().task;
    const int next = bites_counted() + 1;
    const bool all = next > task.bites;
    const bool temporary = task.pattern != Pattern::combined;  // what single bites are
    if (!open_run_.empty()) {
        if (all) return "All bites of the run are laid: bring its ends together and tie it.";
        return fmt::format(
            "Bite {} of {}, number {} of the run: hold the lip, aim on round the wound, set the needle down.", next,
            task.bites, open_run_.size() + 1);
    }
    if (all) {
        const bool singles = in_place() > static_cast<std::size_t>(bites_counted());
        return singles ? "The run is tied. Cut the temporary single bites out, check rings and seal, then finish."
                       : "All bites are in. Check the rings and the seal, then finish.";
    }
    if (running_)
        return fmt::format("Bite {} of {}, the first of a running thread: hold the lip, aim, set the needle down.",
                           next, task.bites);
    if (!attempt_.runs.empty())
        return fmt::format("Bite {} of {}: switch the running thread on, or finish. Single bites come before a run.",
                           next, task.bites);
    if (temporary) return "A temporary single bite: hold the lip, aim across the wound, set the needle down.";
    return fmt::format("Bite {} of {}, a single one. When the single bites are in, switch the running thread on.", next,
                       task.bites);
}

}  // namespace graftwright
