// Aim: where the next bite goes, which thread it belongs to, and everything that needs no needle.
#include <string>

#include <fmt/format.h>

#include "files/event_kind.h"
#include "files/limits.h"
#include "game/stage/stages.h"

namespace graftwright::stage {
namespace {

constexpr double kAimStep_deg = 1.0, kAimStep_mm = 0.02, kSkewStep_deg = 1.0;

bool may_set_needle_down(Table& table) {
    const LaidThreads& threads = table.threads;
    if (threads.count() >= kMostBites) {
        table.say("The attempt is full: 64 bites.", true);
        return false;
    }
    if (!threads.running && !threads.attempt.runs.empty()) {
        table.say("A run is tied: single bites are laid before it, not after.", true);
        return false;
    }
    if (threads.running && threads.open_run.empty() && threads.attempt.runs.size() >= kMostRuns) {
        table.say("Eight runs are tied: no thread is left for another.", true);
        return false;
    }
    return true;
}

Next set_needle_down(Table& table) {
    if (!may_set_needle_down(table)) return {};
    table.bite_trauma_uJ = 0.0;
    table.bite.approach_donor(table.donor.pose(), table.gap_mm(table.bite.aim_deg()), table.eversion_deg);
    return Approach(BiteSide::donor);
}

void select_neighbour(Table& table, bool next) {
    const std::size_t n = table.threads.count();
    if (n == 0) return;
    table.selected = table.selected ? (*table.selected + (next ? 1 : n - 1)) % n : n - 1;
}

void switch_running_thread(Table& table) {
    if (table.scenario().task.pattern == Pattern::interrupted) return;
    if (!table.threads.open_run.empty())
        return table.say("The run is half laid: tie it first, or draw the thread back out.", true);
    table.threads.running = !table.threads.running;
}

Next begin_run_knot(Table& table) {
    if (table.scenario().task.pattern == Pattern::interrupted) return {};
    if (table.threads.open_run.size() < kLeastBitesOfARun) {
        table.say("A run closes through three bites or more: lay them first.", true);
        return {};
    }
    table.tying.emplace(table.scenario(), table.threads.open_run);
    return Tie();
}

void undo(Table& table) {
    if (!table.scenario().task.hand.has(Aid::undo))
        return table.say("This level has no undo: cut the bite out and redo it.", true);
    if (!table.threads.undo(table.donor)) return table.say("Nothing to undo.", true);
    table.selected.reset();
    table.note(EventKind::undone);
    table.say("Undone.");
}

// To the question where the drill asks one, else to the end.
Next finish(Table& table) {
    const Scenario& scenario = table.scenario();
    LaidThreads& threads = table.threads;
    if (!threads.open_run.empty() && !threads.open_run_warned) {
        threads.open_run_warned = true;
        table.say("The run is not tied: it would not count. Tie it, or finish again.", true);
        return {};
    }
    const bool by_hand = !threads.as_begun(scenario);
    // Threads that were taken out by hand are the answer.
    const bool asks = asks_a_question(scenario.kind) && !(scenario.kind == ScenarioKind::remove && by_hand);
    if (!asks || threads.in_place() == 0) return end(table);
    table.note(EventKind::question);
    return Answer(QuestionInHand(scenario, scenario.kind == ScenarioKind::find_leak && by_hand));
}

// The open run's bites count among those that the level asks for.
std::string run_prompt(const Table& table) {
    const Task& task = table.scenario().task;
    const LaidThreads& threads = table.threads;
    const int next = table.bites_counted() + 1;
    const bool all = next > task.bites;
    const bool temporary = task.pattern != Pattern::combined;  // what single bites are
    if (!threads.open_run.empty()) {
        if (all) return "All bites of the run are laid: bring its ends together and tie it.";
        return fmt::format(
            "Bite {} of {}, number {} of the run: hold the lip, aim on round the wound, set the needle down.", next,
            task.bites, threads.open_run.size() + 1);
    }
    if (all) {
        const bool singles = threads.in_place() > static_cast<std::size_t>(table.bites_counted());
        return singles ? "The run is tied. Cut the temporary single bites out, check rings and seal, then finish."
                       : "All bites are in. Check the rings and the seal, then finish.";
    }
    if (threads.running)
        return fmt::format("Bite {} of {}, the first of a running thread: hold the lip, aim, set the needle down.",
                           next, task.bites);
    if (!threads.attempt.runs.empty())
        return fmt::format("Bite {} of {}: switch the running thread on, or finish. Single bites come before a run.",
                           next, task.bites);
    if (temporary) return "A temporary single bite: hold the lip, aim across the wound, set the needle down.";
    return fmt::format("Bite {} of {}, a single one. When the single bites are in, switch the running thread on.", next,
                       task.bites);
}

std::string prompt(const Table& table) {
    const Scenario& scenario = table.scenario();
    if (table.threads.as_begun(scenario)) {
        switch (scenario.kind) {
            case ScenarioKind::read_rings:
                return "Look at the rings as often as you like, here and in the ring check; then answer.";
            case ScenarioKind::find_leak:
                return "Find where it leaks with the leak check. Then answer, or mend it by hand first.";
            case ScenarioKind::remove:
                return "Look at rings and seal; then say which bites come out, or cut them out by hand.";
            default:
                break;
        }
    }
    if (scenario.task.pattern != Pattern::interrupted) return run_prompt(table);
    if (static_cast<int>(table.threads.in_place()) >= scenario.task.bites)
        return "All bites are in. Check the rings and the seal, then finish.";
    return fmt::format("Bite {}: hold the lip, aim across the wound, set the needle down.",
                       table.threads.in_place() + 1);
}

}  // namespace

Next Aim::act(Table& table, const Action& action) {
    const DonorPose pose = table.donor.pose();
    if (action.kind == Action::Kind::point) table.bite.aim_at(action.at, pose);
    switch (action.command) {
        case Command::left:
            table.bite.aim_by(action.amount * kAimStep_deg, 0.0);
            break;
        case Command::right:
            table.bite.aim_by(-action.amount * kAimStep_deg, 0.0);
            break;
        case Command::up:
            table.bite.aim_by(0.0, action.amount * kAimStep_mm);
            break;
        case Command::down:
            table.bite.aim_by(0.0, -action.amount * kAimStep_mm);
            break;
        case Command::skew_more:
            table.bite.skew_by(action.amount * kSkewStep_deg);
            break;
        case Command::skew_less:
            table.bite.skew_by(-action.amount * kSkewStep_deg);
            break;
        case Command::primary:
            return set_needle_down(table);
        case Command::next_bite:
        case Command::previous_bite:
            select_neighbour(table, action.command == Command::next_bite);
            break;
        case Command::cut_out:
            table.cut_out_selected();
            break;
        case Command::running_thread:
            switch_running_thread(table);
            break;
        case Command::tie_run:
            return begin_run_knot(table);
        case Command::back:
            if (!table.threads.open_run.empty()) table.draw_run_bite_back();
            break;
        case Command::undo:
            undo(table);
            break;
        case Command::refill:
            table.chamber.refill();
            table.say("The chamber is deep again.");
            break;
        case Command::ring_check:
            return RingCheck(table);
        case Command::leak_check:
            return LeakCheck(table);
        case Command::finish:
            return finish(table);
        default:
            break;
    }
    return {};
}

void Aim::show(const Table& table, Snapshot& shot) const {
    using enum Command;
    const Scenario& scenario = table.scenario();
    const bool any = !shot.bites.empty();
    shot.title = "Aim";
    shot.prompt = prompt(table);
    shot.plane = table.bite.plane(table.donor.pose());
    shot.wheel = skew_more;
    shot.pointer_does = PointerDoes::aim;
    offer(shot, {{primary, "Set needle down"}});
    offer_lip(shot);
    offer(shot, {{left, "Anticlockwise"},
                 {right, "Clockwise"},
                 {up, "Outward"},
                 {down, "Inward"},
                 {skew_more, "Skew +"},
                 {skew_less, "Skew -"},
                 {next_bite, "Select bite", false, any},
                 {cut_out, "Cut out", false, any},
                 {Command::undo, "Undo", false, any && scenario.task.hand.has(Aid::undo)},
                 {ring_check, "Ring check"},
                 {leak_check, "Leak check"},
                 {refill, "Refill"}});
    if (scenario.task.pattern != Pattern::interrupted) {
        const std::size_t open = table.threads.open_run.size();
        offer(shot, {{running_thread, "Running", table.threads.running, open == 0},
                     {tie_run, "Tie run", false, open >= kLeastBitesOfARun}});
        if (open > 0) offer(shot, {{back, "Draw back"}});
    }
    offer(shot, {{Command::finish, asks_a_question(scenario.kind) ? "Answer" : "Finish", false, any}});
}

}  // namespace graftwright::stage
