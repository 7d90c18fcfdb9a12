// Taken back: bites and runs that are cut out, and undo where the level has it.
#include <algorithm>

#include <fmt/format.h>

#include "game/session.h"

namespace graftwright {

void Session::remember() { history_.push_back({attempt_.bites, laid_, attempt_.runs, laid_runs_, open_run_}); }

void Session::cut_out_selected() {
    if (selected_ && *selected_ < bites_laid()) {
        const BitePlace place = place_of(*selected_);
        if (place.in == BitePlace::In::open_run) return draw_run_bite_back();
        if (place.in == BitePlace::In::tied_run) return cut_run_out(place.run);
    }
    if (!selected_ || *selected_ >= attempt_.bites.size() || attempt_.bites[*selected_].removed) {
        say("Select a bite that lies in the eye.", true);
        return;
    }
    remember();
    Bite& bite = attempt_.bites[*selected_];
    Laid& laid = laid_[*selected_];
    bite.removed = true;
    // A file's runs are tied after its single bites: what comes out then comes out after the last knot.
    bite.removed_after = attempt_.runs.empty() ? static_cast<int>(attempt_.bites.size()) : 0;
    if (laid.tethered) donor_.cut(laid.tether);
    laid.tethered = false;
    note("cut_out", fmt::format(R"({{"bite":{}}})", *selected_ + 1));
    say(fmt::format("Bite {} is out. Time and tissue are the price.", *selected_ + 1));
}

void Session::undo() {
    const std::vector<std::string>& aids = model_->scenario().task.hand.aids;
    if (std::find(aids.begin(), aids.end(), "undo") == aids.end()) {
        say("This level has no undo: cut the bite out and redo it.", true);
        return;
    }
    if (history_.empty()) {
        say("Nothing to undo.", true);
        return;
    }
    Before before = std::move(history_.back());
    history_.pop_back();
    for (std::size_t b = 0; b < laid_.size(); ++b)
        if (laid_[b].tethered && (b >= before.laid.size() || !before.laid[b].tethered)) donor_.cut(laid_[b].tether);
    for (std::size_t b = 0; b < before.laid.size(); ++b)
        if (before.laid[b].tethered && (b >= laid_.size() || !laid_[b].tethered))
            before.laid[b].tether = donor_.tether(before.bites[b].graft_deg, before.bites[b].host_deg);
    attempt_.bites = std::move(before.bites);
    laid_ = std::move(before.laid);
    restore_runs(std::move(before.runs), std::move(before.laid_runs), std::move(before.open_run));
    selected_.reset();
    note("undone");
    say("Undone.");
}

void Session::cut_run_out(std::size_t run) {
    remember();
    for (const std::size_t tether : laid_runs_[run].tethers) donor_.cut(tether);
    const std::size_t bites = attempt_.runs[run].bites.size();
    attempt_.runs.erase(attempt_.runs.begin() + static_cast<std::ptrdiff_t>(run));
    laid_runs_.erase(laid_runs_.begin() + static_cast<std::ptrdiff_t>(run));
    selected_.reset();
    note("run_cut_out", fmt::format(R"({{"run":{},"bites":{}}})", run + 1, bites));
    say(fmt::format("The run is cut and pulled out with {}. Time and tissue are the price.",
                    bites == 1 ? "its one bite" : fmt::format("all its {} bites", bites)));
}

void Session::restore_runs(std::vector<Run> runs, std::vector<LaidRun> laid, std::vector<RunBite> open) {
    const auto known = [](const std::vector<LaidRun>& among, const LaidRun& one) {
        return std::any_of(among.begin(), among.end(),
                           [&](const LaidRun& other) { return other.tethers == one.tethers; });
    };
    for (const LaidRun& now : laid_runs_)
        if (!known(laid, now))
            for (const std::size_t tether : now.tethers) donor_.cut(tether);
    for (std::size_t r = 0; r < laid.size(); ++r) {
        if (known(laid_runs_, laid[r])) continue;
        laid[r].tethers.clear();
        for (const RunBite& bite : runs[r].bites)
            laid[r].tethers.push_back(donor_.tether(bite.graft_deg, bite.host_deg));
    }
    attempt_.runs = std::move(runs);
    laid_runs_ = std::move(laid);
    open_run_ = std::move(open);
    open_run_warned_ = false;
    if (!open_run_.empty()) running_ = true;
}

}  // namespace graftwright
