// Tie: throws are laid, the ends drawn; of a running thread the slack is worked round the wound.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/point.h"
#include "files/event_kind.h"
#include "files/limits.h"
#include "game/stage/stages.h"

namespace graftwright::stage {
namespace {

constexpr double kPullStep_mN = 1.0;
constexpr double kDragPull_mN_per_mm = 50.0;  // 0.25 mN a design pixel
constexpr double kHandPulls_mN = 100.0;       // most that fingers put on hair-fine thread (our choice)
// Slack is fed on with two forceps from span to span. No timing of it was found; 1.5 s a bite is our choice.
constexpr double kWorkRoundSeconds = 1.5;

void pull_by(Tying& tying, double mN) {
    tying.hand_mN = std::clamp(tying.hand_mN + mN, 0.0, kHandPulls_mN);
    tying.knot.pull(tying.hand_mN);
}

void lay_throw(Table& table, bool clockwise) {
    Tying& tying = *table.tying;
    KnotInHand& knot = tying.knot;
    if (knot.throws().size() >= kMostThrows) return table.say("No more throws: this knot is big enough to show.", true);
    knot.lay({tying.next_turns, clockwise});
    tying.next_turns = 1;
    if (knot.locked())
        table.say(knot.square() ? "Square: the knot holds." : "Locked, but a same-way throw lies in it.");
    else if (knot.kind() == KnotKind::sliding)
        table.say("A same-way throw: it slides. Set the tension, then reverse one.");
}

// A square knot of three throws, then the ends are cut short.
Next go_on(Table& table) {
    const KnotInHand& knot = table.tying->knot;
    if (knot.throws().size() >= 3 && knot.locked()) return Bury();
    lay_throw(table, knot.throws().empty() || !knot.throws().back().clockwise);
    return {};
}

void work_slack_round(Table& table) {
    Run& run = *table.tying->run;
    const KnotInHand& knot = table.tying->knot;
    if (knot.locked()) return table.say("The knot is locked: no slack comes through it any more.", true);
    if (knot.loop_mN() < kLoose_mN) return table.say("Draw the ends first: a slack thread takes up nothing.", true);
    run.worked_mN = knot.loop_mN();
    table.pass_time(static_cast<int>(std::lround(kWorkRoundSeconds * kTicksPerSecond)) *
                    static_cast<int>(run.bites.size()));
    table.note(EventKind::slack_worked, {{"run", table.threads.attempt.runs.size() + 1},
                                         {"bites", run.bites.size()},
                                         {"tension_mN", *run.worked_mN, 3}});
    table.say(table.scenario().task.hand.has(Aid::tension)
                  ? fmt::format("Slack worked round at {:.0f} mN.", *run.worked_mN)
                  : "Slack worked round.");
}

// Throws that are not locked come off again.
Next open_run_again(Table& table) {
    const KnotInHand& knot = table.tying->knot;
    if (knot.locked()) {
        table.say("The knot is locked: cut the ends; the whole run can be cut out afterwards.", true);
        return {};
    }
    shorten_weakest(table.scenario(), table.threads.open_run, knot.cut_mm());
    table.tying.reset();
    table.note(EventKind::run_opened);
    table.say("The throws are taken off: the run lies open.");
    return Aim();
}

Next give_up(Table& table) {
    if (table.tying->run) return open_run_again(table);
    table.lose_bite(EventKind::abandoned, "The thread is pulled out; the bite is given up.");
    return Aim();
}

// The thread in hand draws two edges together.
void draw_together(Table& table, Point donor_edge, Point host_edge) {
    const double loop_mN = table.tying->knot.loop_mN();
    const double dx = host_edge.x - donor_edge.x, dy = host_edge.y - donor_edge.y;
    const double distance = std::hypot(dx, dy);
    if (distance > 2.0 * kOpenGap_mm) table.donor.push(donor_edge, {loop_mN * dx / distance, loop_mN * dy / distance});
}

void draw_bite(Table& table) {
    Tying& tying = *table.tying;
    const BitePlane plane = table.bite.plane(table.donor.pose());
    draw_together(table, plane.donor_edge, plane.host_edge);
    tying.bite.tension_mN = tying.knot.loop_mN();
    if (!tying.knot.throws().empty()) tying.bite.throws = tying.knot.throws_text();
}

// Each bite draws its two edges together. What friction keeps from the far side is the solver's business: a donor
// that lies in its bed is hardly moved by it.
void draw_run(Table& table) {
    Run& run = *table.tying->run;
    for (const RunBite& path : run.bites) {
        const LaidBite laid = table.laid_as(path);
        draw_together(table, laid.donor_edge, laid.host_edge);
    }
    run.tension_mN = table.tying->knot.loop_mN();
}

Next lose(Table& table, EventKind how, const char* bite_words, const char* run_words) {
    if (!table.tying->run) {
        table.lose_bite(how, bite_words);
        return Aim();
    }
    LaidThreads& threads = table.threads;
    threads.remember();
    table.note(how, {{"run", threads.attempt.runs.size() + 1}, {"bites", threads.open_run.size()}});
    table.say(run_words, true);
    threads.open_run.clear();
    table.tying.reset();
    table.selected.reset();
    return Aim();
}

const char* prompt(const Tying& tying) {
    const KnotInHand& knot = tying.knot;
    if (tying.run && knot.throws().empty())
        return "Wind the first throw, draw the ends, and work the slack round the wound.";
    if (tying.run && !knot.locked() && *tying.run->worked_mN == 0.0)
        return "Draw the ends, then work the slack round: friction keeps a pull from the far side.";
    if (tying.run && !knot.locked())
        return "Worked round. Ease the ends until the knot's span is no tighter than the rest, then reverse a throw.";
    if (knot.throws().empty()) return "Wind the first throw, then draw the ends to their tension.";
    if (!knot.locked()) return "Draw to the tension you want and reverse the next throw to lock it.";
    return knot.throws().size() < 3 ? "Locked. One more reversed throw, then cut the ends short."
                                    : "Cut the ends short.";
}

}  // namespace

Next Tie::act(Table& table, const Action& action) {
    Tying& tying = *table.tying;
    if (action.kind == Action::Kind::drag) pull_by(tying, kDragPull_mN_per_mm * (action.at.x + action.at.y));
    switch (action.command) {
        case Command::up:
        case Command::right:
        case Command::tighter:
            pull_by(tying, action.amount * kPullStep_mN);
            break;
        case Command::down:
        case Command::left:
        case Command::looser:
            pull_by(tying, -action.amount * kPullStep_mN);
            break;
        case Command::let_go:
            pull_by(tying, -tying.hand_mN);
            break;
        case Command::turns_more:
            tying.next_turns = std::min(4, tying.next_turns + 1);
            break;
        case Command::turns_less:
            tying.next_turns = std::max(1, tying.next_turns - 1);
            break;
        case Command::throw_clockwise:
            lay_throw(table, true);
            break;
        case Command::throw_counter:
            lay_throw(table, false);
            break;
        case Command::primary:
            return go_on(table);
        case Command::work_round:
            if (tying.run) work_slack_round(table);
            break;
        case Command::back:
            return give_up(table);
        default:
            break;
    }
    return {};
}

Next Tie::step(Table& table) {
    KnotInHand& knot = table.tying->knot;
    knot.step();
    table.tying->run ? draw_run(table) : draw_bite(table);
    if (knot.broken())
        return lose(table, EventKind::thread_broke, "The thread has broken.",
                    "The thread has broken: the whole run is lost.");
    if (knot.torn_out()) {
        table.note(EventKind::trauma);
        return lose(table, EventKind::tore_out, "The thread has cut through the tissue and torn out.",
                    "The thread has torn out of the tissue: the whole run is lost.");
    }
    if (knot.cut_mm() > 0.0) table.say("The thread is cutting into the tissue.", true);
    return {};
}

void Tie::show(const Table& table, Snapshot& shot) const {
    using enum Command;
    const KnotInHand& knot = table.tying->knot;
    const bool run = table.tying->run.has_value(), locked = knot.locked();
    shot.title = "Tie";
    shot.prompt = prompt(*table.tying);
    shot.wheel = tighter;
    offer(shot, {{primary, locked && knot.throws().size() >= 3 ? "Cut ends" : "Next throw"},
                 {tighter, "Tighter"},
                 {looser, "Looser"},
                 {let_go, "Let go"},
                 {throw_clockwise, "Throw right"},
                 {throw_counter, "Throw left"},
                 {turns_more, "More turns"},
                 {turns_less, "Fewer turns"}});
    if (run) offer(shot, {{work_round, "Work round", false, !locked}});
    offer(shot, {{back, run ? "Open run" : "Give up bite", false, !run || !locked}});
}

}  // namespace graftwright::stage
