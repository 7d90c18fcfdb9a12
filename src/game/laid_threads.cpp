#include "game/laid_threads.h"

#include <algorithm>
#include <utility>

#include "score/bites_in_order.h"

namespace graftwright {
namespace {

template <typename AnyBite>
std::vector<std::size_t> tethers_of(const std::vector<AnyBite>& bites, DonorAfloat& donor) {
    std::vector<std::size_t> tethers;
    for (const BitePath& bite : bites) tethers.push_back(donor.tether(bite.graft_deg, bite.host_deg));
    return tethers;
}

}  // namespace

bool in_running_pattern(const Scenario& scenario) {
    return scenario.task.pattern == Pattern::running || scenario.task.pattern == Pattern::double_running;
}

void LaidThreads::begin(const Scenario& scenario, DonorAfloat& donor) {
    attempt.bites = scenario.start.bites;
    for (const Bite& bite : attempt.bites)
        laid.push_back({bite.removed ? std::vector<std::size_t>{} : tethers_of(std::vector{bite}, donor), false, true});
    attempt.runs = scenario.start.runs;
    for (const Run& run : attempt.runs) laid_runs.push_back({tethers_of(run.bites, donor), false, true});
    running = in_running_pattern(scenario);
}

bool LaidThreads::as_begun(const Scenario& scenario) const {
    return attempt.bites == scenario.start.bites && attempt.runs == scenario.start.runs && open_run.empty();
}

std::size_t LaidThreads::in_place() const { return bites_in_eye(attempt); }

std::size_t LaidThreads::count() const { return bite_count(attempt) + open_run.size(); }

LaidThreads::Place LaidThreads::place_of(std::size_t b) const {
    if (b < attempt.bites.size()) return {Place::In::single, 0, b};
    b -= attempt.bites.size();
    for (std::size_t r = 0; r < attempt.runs.size(); ++r) {
        if (b < attempt.runs[r].bites.size()) return {Place::In::tied_run, r, b};
        b -= attempt.runs[r].bites.size();
    }
    return {Place::In::open_run, attempt.runs.size(), b};
}

void LaidThreads::tie(const Bite& bite, bool in_host, DonorAfloat& donor) {
    attempt.bites.push_back(bite);
    laid.push_back({tethers_of(std::vector{bite}, donor), in_host, false});
}

void LaidThreads::tie(Run run, bool in_host, DonorAfloat& donor) {
    laid_runs.push_back({tethers_of(run.bites, donor), in_host, false});
    attempt.runs.push_back(std::move(run));
    open_run.clear();
}

void LaidThreads::cut(std::size_t single, DonorAfloat& donor) {
    Bite& bite = attempt.bites[single];
    bite.removed = true;
    // A file's runs are tied after its single bites: what comes out then comes out after the last knot.
    bite.removed_after = attempt.runs.empty() ? static_cast<int>(attempt.bites.size()) : 0;
    for (const std::size_t tether : laid[single].tethers) donor.cut(tether);
    laid[single].tethers.clear();
}

void LaidThreads::cut_run(std::size_t run, DonorAfloat& donor) {
    for (const std::size_t tether : laid_runs[run].tethers) donor.cut(tether);
    attempt.runs.erase(attempt.runs.begin() + static_cast<std::ptrdiff_t>(run));
    laid_runs.erase(laid_runs.begin() + static_cast<std::ptrdiff_t>(run));
}

void LaidThreads::remember() { history_.push_back({attempt.bites, laid, attempt.runs, laid_runs, open_run}); }

bool LaidThreads::undo(DonorAfloat& donor) {
    if (history_.empty()) return false;
    Before before = std::move(history_.back());
    history_.pop_back();
    restore_bites(before, donor);
    restore_runs(before, donor);
    open_run = std::move(before.open_run);
    open_run_warned = false;
    if (!open_run.empty()) running = true;
    return true;
}

void LaidThreads::restore_bites(Before& before, DonorAfloat& donor) {
    const auto tethered = [](const std::vector<Laid>& among, std::size_t b) {
        return b < among.size() && !among[b].tethers.empty();
    };
    for (std::size_t b = 0; b < laid.size(); ++b)
        if (tethered(laid, b) && !tethered(before.laid, b)) donor.cut(laid[b].tethers.front());
    // A bite in place then and now hangs on what holds it now: undone, it may be tethered anew since then.
    for (std::size_t b = 0; b < before.laid.size(); ++b)
        if (tethered(before.laid, b))
            before.laid[b].tethers =
                tethered(laid, b) ? laid[b].tethers : tethers_of(std::vector{before.bites[b]}, donor);
    attempt.bites = std::move(before.bites);
    laid = std::move(before.laid);
}

void LaidThreads::restore_runs(Before& before, DonorAfloat& donor) {
    const auto known = [](const std::vector<Laid>& among, const Laid& one) {
        return std::any_of(among.begin(), among.end(), [&](const Laid& other) { return other.tethers == one.tethers; });
    };
    for (const Laid& now : laid_runs)
        if (!known(before.laid_runs, now))
            for (const std::size_t tether : now.tethers) donor.cut(tether);
    for (std::size_t r = 0; r < before.laid_runs.size(); ++r)
        if (!known(laid_runs, before.laid_runs[r]))
            before.laid_runs[r].tethers = tethers_of(before.runs[r].bites, donor);
    attempt.runs = std::move(before.runs);
    laid_runs = std::move(before.laid_runs);
}

}  // namespace graftwright
