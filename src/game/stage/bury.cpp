// Bury: the knot is turned in on one side, and what was tied is part of the attempt.
#include <utility>

#include "files/event_kind.h"
#include "game/stage/stages.h"

namespace graftwright::stage {
namespace {

const char* side_name(bool in_host) { return in_host ? "host" : "donor"; }

Next finish_bite(Table& table, bool in_host) {
    LaidThreads& threads = table.threads;
    threads.remember();
    Bite bite = table.tying->bite;
    shorten(bite, table.tying->knot.cut_mm());
    threads.tie(bite, in_host, table.donor);
    table.selected = threads.attempt.bites.size() - 1;
    table.note(
        EventKind::tied,
        {{"bite", threads.attempt.bites.size()}, {"tension_mN", bite.tension_mN, 3}, {"buried", side_name(in_host)}});
    table.tying.reset();
    table.bite.give_up();
    const auto count = static_cast<int>(threads.in_place());
    if ((count != 2 && count != 4) || table.looked_at >= count) return Aim();
    table.looked_at = count;
    return Look();
}

Next finish_run(Table& table, bool in_host) {
    LaidThreads& threads = table.threads;
    threads.remember();
    Run run = *table.tying->run;
    shorten_weakest(table.scenario(), run.bites, table.tying->knot.cut_mm());
    table.note(EventKind::run_tied, {{"run", threads.attempt.runs.size() + 1},
                                     {"bites", run.bites.size()},
                                     {"tension_mN", run.tension_mN, 3},
                                     {"worked_mN", *run.worked_mN, 3},
                                     {"buried", side_name(in_host)}});
    threads.tie(std::move(run), in_host, table.donor);
    table.tying.reset();
    table.selected = threads.count() - 1;
    table.say("The run is tied, its knot turned in.");
    return Aim();
}

}  // namespace

Next Bury::act(Table& table, const Action& action) {
    const bool in_host = action.command == Command::bury_host || action.command == Command::primary;
    if (!in_host && action.command != Command::bury_donor) return {};
    return table.tying->run ? finish_run(table, in_host) : finish_bite(table, in_host);
}

void Bury::show(const Table&, Snapshot& shot) const {
    shot.title = "Bury the knot";
    shot.prompt = "Turn the knot into the stroma: to the donor's side or the host's.";
    offer(shot, {{Command::bury_donor, "To the donor"}, {Command::bury_host, "To the host"}});
}

}  // namespace graftwright::stage
