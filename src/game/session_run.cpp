// Running threads in a session: laid bite by bite, drawn together, worked round, tied.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "files/rules.h"
#include "game/session.h"
#include "score/bites_in_order.h"

namespace graftwright {
namespace {

// Slack is fed on with two forceps from span to span. No timing of it was found; 1.5 s a bite is our choice.
constexpr double kWorkRoundSeconds = 1.5;
constexpr std::size_t kMostRuns = 8;       // as files allow

std::vector<BitePath> paths_of(const std::vector<RunBite>& bites) { return {bites.begin(), bites.end()}; }

bool in_running_pattern(const Scenario& scenario) {
    return scenario.task.pattern == Pattern::running || scenario.task.pattern == Pattern::double_running;
}

double cut_limit_of(const Scenario& scenario, const BitePath& bite) {
    const double depth =
        std::min(bite.graft_depth_um / scenario.graft.thickness_um, bite.host_depth_um / scenario.eye.rim_thickness_um);
    const double modulus = std::min(scenario.graft.modulus_kPa, scenario.eye.modulus_kPa);
    return cut_limit_mN(std::min(bite.graft_bite_mm, bite.host_bite_mm), depth, modulus);
}

// The bite that gives way first.
template <typename AnyBite>
std::size_t weakest(const Scenario& scenario, const std::vector<AnyBite>& bites) {
    const auto found = std::min_element(bites.begin(), bites.end(), [&](const AnyBite& a, const AnyBite& b) {
        return cut_limit_of(scenario, a) < cut_limit_of(scenario, b);
    });
    return static_cast<std::size_t>(found - bites.begin());
}

}  // namespace

void Session::take_up_runs(const std::vector<Run>& runs) {
    for (const Run& run : runs) {
        attempt_.runs.push_back(run);
        LaidRun laid;
        laid.from_start = true;
        for (const RunBite& bite : run.bites) laid.tethers.push_back(donor_.tether(bite.graft_deg, bite.host_deg));
        laid_runs_.push_back(std::move(laid));
    }
    running_ = in_running_pattern(model_->scenario());
}

std::size_t Session::in_place() const {
    return bites_in_eye(attempt_);
}

std::size_t Session::bites_laid() const {
    return bite_count(attempt_) + open_run_.size();
}

// Single bites beside a level's running thread are temporary, and come out again.
int Session::bites_counted() const {
    std::size_t count = in_place() + open_run_.size() + (tying_ ? 1 : 0);
    if (in_running_pattern(model_->scenario()))
        count -= bites_in_eye(attempt_.bites, {}) + (tying_ ? 1 : 0);
    return static_cast<int>(count);
}

bool Session::as_the_level_began() const {
    const Scenario& scenario = model_->scenario();
    return attempt_.bites == scenario.start.bites && attempt_.runs == scenario.start.runs && open_run_.empty();
}

Session::BitePlace Session::place_of(std::size_t b) const {
    if (b < attempt_.bites.size()) return {BitePlace::In::single, 0, b};
    b -= attempt_.bites.size();
    for (std::size_t r = 0; r < attempt_.runs.size(); ++r) {
        if (b < attempt_.runs[r].bites.size()) return {BitePlace::In::tied_run, r, b};
        b -= attempt_.runs[r].bites.size();
    }
    return {BitePlace::In::open_run, attempt_.runs.size(), b};
}

KnotLimits Session::limits_of(const std::vector<BitePath>& bites) const {
    const Scenario& scenario = model_->scenario();
    const BitePath& bite = bites[weakest(scenario, bites)];
    return {scenario.thread.break_mN, cut_limit_of(scenario, bite), std::min(bite.graft_bite_mm, bite.host_bite_mm)};
}

void Session::switch_running_thread() {
    if (model_->scenario().task.pattern == Pattern::interrupted) return;
    if (!open_run_.empty()) {
        say("The run is half laid: tie it first, or draw the thread back out.", true);
        return;
    }
    running_ = !running_;
}

bool Session::may_set_needle_down() {
    if (bites_laid() >= kMostBites) {
        say("The attempt is full: 64 bites.", true);
        return false;
    }
    if (!running_ && !attempt_.runs.empty()) {
        say("A run is tied: single bites are laid before it, not after.", true);
        return false;
    }
    if (running_ && open_run_.empty() && attempt_.runs.size() >= kMostRuns) {
        say("Eight runs are tied: no thread is left for another.", true);
        return false;
    }
    return true;
}

void Session::lay_run_bite(const Bite& bite) {
    const auto close = [](double a, double b) { return std::abs(std::remainder(a - b, 360.0)) < kOnePlaceDeg; };
    for (const RunBite& other : open_run_)
        if (close(other.graft_deg, bite.graft_deg) && close(other.host_deg, bite.host_deg)) {
            say("The thread lies here already: back the needle out.", true);
            return;
        }
    remember();
    open_run_.push_back({static_cast<const BitePath&>(bite)});
    open_run_warned_ = false;
    selected_ = bites_laid() - 1;
    note("run_bite", fmt::format(R"({{"run":{},"bite":{}}})", attempt_.runs.size() + 1, open_run_.size()));
    // A warning about the bite itself (through and through) stands.
    if (!warning_ || tick_ >= notice_until_)
        say(fmt::format("Bite {} of the run is laid; its thread stays slack.", open_run_.size()));
    bite_.give_up();
    go(Stage::aim);
}

void Session::draw_run_bite_back() {
    remember();
    note("run_bite_out", fmt::format(R"({{"run":{},"bite":{}}})", attempt_.runs.size() + 1, open_run_.size()));
    say(fmt::format("The thread is drawn back out of bite {} of the run.", open_run_.size()));
    open_run_.pop_back();
    open_run_warned_ = false;
    if (bites_laid() > 0)
        selected_ = bites_laid() - 1;
    else
        selected_.reset();
}

void Session::begin_run_knot() {
    if (model_->scenario().task.pattern == Pattern::interrupted) return;
    if (open_run_.size() < kLeastBitesOfARun) {
        say("A run closes through three bites or more: lay them first.", true);
        return;
    }
    tying_run_.emplace();
    tying_run_->bites = open_run_;
    tying_run_->tension_mN = 0.0;
    tying_run_->worked_mN = 0.0;
    knot_limits_ = limits_of(paths_of(open_run_));
    knot_.emplace(knot_limits_);
    hand_mN_ = 0.0;
    next_turns_ = 3;
    go(Stage::tie);
}

// Throws that are not locked come off again.
void Session::open_run_again() {
    if (knot_->locked()) {
        say("The knot is locked: cut the ends; the whole run can be cut out afterwards.", true);
        return;
    }
    shorten(open_run_[weakest(model_->scenario(), open_run_)], knot_->cut_mm());
    tying_run_.reset();
    knot_.reset();
    note("run_opened");
    say("The throws are taken off: the run lies open.");
    go(Stage::aim);
}

void Session::work_slack_round() {
    if (knot_->locked()) {
        say("The knot is locked: no slack comes through it any more.", true);
        return;
    }
    if (knot_->loop_mN() < kLoose_mN) {
        say("Draw the ends first: a slack thread takes up nothing.", true);
        return;
    }
    tying_run_->worked_mN = knot_->loop_mN();
    const int taken =
        static_cast<int>(std::lround(kWorkRoundSeconds * kTicksPerSecond)) * static_cast<int>(tying_run_->bites.size());
    active_ticks_ += taken;
    if (in_place() < 4) open_ticks_ += taken;
    note("slack_worked", fmt::format(R"({{"run":{},"bites":{},"tension_mN":{:.3f}}})", attempt_.runs.size() + 1,
                                     tying_run_->bites.size(), *tying_run_->worked_mN));
    const std::vector<std::string>& aids = model_->scenario().task.hand.aids;
    const bool numbers = std::find(aids.begin(), aids.end(), "tension") != aids.end();
    say(numbers ? fmt::format("Slack worked round at {:.0f} mN.", *tying_run_->worked_mN) : "Slack worked round.");
}

// Each bite draws its two edges together. What friction keeps from the far side is the solver's business: a donor
// that lies in its bed is hardly moved by it.
void Session::draw_run_together() {
    for (const RunBite& path : tying_run_->bites) {
        Bite bite;
        static_cast<BitePath&>(bite) = path;
        const LaidBite laid = laid_as(bite);
        draw_together(laid.donor_edge, laid.host_edge);
    }
    tying_run_->tension_mN = knot_->loop_mN();
}

void Session::finish_run(bool in_host) {
    remember();
    Run run = *tying_run_;
    shorten(run.bites[weakest(model_->scenario(), run.bites)], knot_->cut_mm());
    LaidRun laid;
    laid.buried_in_host = in_host;
    for (const RunBite& bite : run.bites) laid.tethers.push_back(donor_.tether(bite.graft_deg, bite.host_deg));
    laid_runs_.push_back(std::move(laid));
    note("run_tied", fmt::format(R"({{"run":{},"bites":{},"tension_mN":{:.3f},"worked_mN":{:.3f},"buried":"{}"}})",
                                 attempt_.runs.size() + 1, run.bites.size(), run.tension_mN, *run.worked_mN,
                                 in_host ? "host" : "donor"));
    attempt_.runs.push_back(std::move(run));
    open_run_.clear();
    tying_run_.reset();
    knot_.reset();
    selected_ = bites_laid() - 1;
    say("The run is tied, its knot turned in.");
    go(Stage::aim);
}

void Session::lose_run(const char* what, const std::string& words) {
    remember();
    note(what, fmt::format(R"({{"run":{},"bites":{}}})", attempt_.runs.size() + 1, open_run_.size()));
    say(words, true);
    open_run_.clear();
    tying_run_.reset();
    knot_.reset();
    selected_.reset();
    go(Stage::aim);
}

bool Session::warned_of_open_run() {
    if (open_run_.empty() || open_run_warned_) return false;
    open_run_warned_ = true;
    say("The run is not tied: it would not count. Tie it, or finish again.", true);
    return true;
}

}  // namespace graftwright
