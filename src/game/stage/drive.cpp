// Drive: the wrist turns the needle through one edge, tick by tick; then it is re-grasped, or pulled through.
#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/point.h"
#include "base/units.h"
#include "files/event_kind.h"
#include "files/limits.h"
#include "game/stage/stages.h"

namespace graftwright::stage {
namespace {

constexpr double kTurnStep_deg = 0.5, kPushStep_mm = 0.02;
constexpr double kDragTurn_deg_per_mm = 20.0;  // 0.1° a design pixel at 200 px/mm: the wheel's fine step
constexpr double kTraumaUnit_uJ = 5.0;         // one "trauma" event for each so much work (our choice)

Point tremor(const Table& table) {
    // Two slow sines of no common period stand for physiological tremor, 8–12 Hz (from memory).
    const double amplitude = mm_from_um(table.scenario().task.hand.tremor_um);
    if (amplitude == 0.0) return {};
    const auto at = [&](int tick, double hz, double phase) {
        return amplitude * std::sin(2.0 * kPi * hz * tick / kTicksPerSecond + phase);
    };
    const auto phase = static_cast<double>(table.threads.count());
    const int tick = table.tick;
    return {at(tick, 8.7, phase) - at(tick - 1, 8.7, phase),
            at(tick, 11.3, 2.0 * phase) - at(tick - 1, 11.3, 2.0 * phase)};
}

void count_trauma(Table& table, double after_uJ) {
    const double before_uJ = std::exchange(table.trauma_uJ, after_uJ);
    if (std::floor(after_uJ / kTraumaUnit_uJ) > std::floor(before_uJ / kTraumaUnit_uJ)) {
        table.note(EventKind::trauma, {{"total_uJ", after_uJ, 2}});
        table.say("The needle is dragging the tissue: turn it along its own curve.", true);
    }
}

Next re_grasp(Table& table) {
    const SectionDrive& section = *table.bite.section();
    if (!section.donor_pass().complete || section.in_chamber()) {
        table.say("Drive on until the tip stands in the wound.", true);
        return {};
    }
    table.bite.approach_host();
    return Approach(BiteSide::host);
}

Next withdrawn(Table& table, BiteSide side) {
    table.say("The needle is out again.");
    if (side == BiteSide::host) {
        table.bite.approach_host();
        return Approach(BiteSide::host);
    }
    table.bite.give_up();
    return Aim();
}

Next lay_run_bite(Table& table, const Bite& bite) {
    LaidThreads& threads = table.threads;
    for (const RunBite& other : threads.open_run)
        if (one_place(other.graft_deg, bite.graft_deg) && one_place(other.host_deg, bite.host_deg)) {
            table.say("The thread lies here already: back the needle out.", true);
            return {};
        }
    threads.remember();
    threads.open_run.push_back({static_cast<const BitePath&>(bite)});
    threads.open_run_warned = false;
    table.selected = threads.count() - 1;
    table.note(EventKind::run_bite, {{"run", threads.attempt.runs.size() + 1}, {"bite", threads.open_run.size()}});
    // A warning about the bite itself (through and through) stands.
    if (!table.warning || table.tick >= table.notice_until)
        table.say(fmt::format("Bite {} of the run is laid; its thread stays slack.", threads.open_run.size()));
    table.bite.give_up();
    return Aim();
}

// What keeps a thread from being pulled through; "": nothing.
const char* refusal(const Table& table, const std::optional<Bite>& bite) {
    if (!bite) return "Drive on until the tip comes out of the host.";
    const BitePlane plane = table.bite.plane(table.donor.pose());
    if (table.bite.section()->host_pass().bite_mm >
        host_reach_mm(table.scenario(), plane.host_edge, plane.direction_deg))
        return "The needle has come out beyond the limbus: back it out.";
    const auto in_range = [](double length_mm) { return length_mm >= 0.2 && length_mm <= 3.0; };  // as files allow
    if (!in_range(bite->graft_bite_mm) || !in_range(bite->host_bite_mm))
        return "So short or long a bite holds no thread: back it out.";
    return "";
}

Next pull_through(Table& table) {
    const std::optional<Bite> bite = table.bite.bite(table.donor.pose());
    if (const std::string_view why_not = refusal(table, bite); !why_not.empty()) {
        table.say(std::string(why_not), true);
        return {};
    }
    const Scenario& scenario = table.scenario();
    table.note(EventKind::driven, {{"host_deg", bite->host_deg, 2},
                                   {"graft_deg", bite->graft_deg, 2},
                                   {"trauma_uJ", table.bite.section()->trauma_uJ(), 3}});
    if (bite->graft_depth_um >= scenario.graft.thickness_um || bite->host_depth_um >= scenario.eye.rim_thickness_um)
        table.say("This bite goes through into the chamber: a leak track of its own.", true);
    if (table.threads.running) return lay_run_bite(table, *bite);
    table.tying.emplace(scenario, *bite);
    return Tie();
}

Next heed(Table& table, BiteSide side, DriveEvent event) {
    const bool shallow = table.chamber.shallow();
    switch (event) {
        case DriveEvent::entered_front:
            if (!shallow) break;
            ++table.endothelial_touches;
            table.note(EventKind::endothelial_touch);
            table.say("The chamber is flat: the donor rubs its endothelium. Refill it.", true);
            break;
        case DriveEvent::left_face:
            if (const PassResult& pass = table.bite.section()->donor_pass(); pass.complete)
                table.say(fmt::format("The tip stands in the wound, {:.0f} % deep: re-grasp.",
                                      100.0 * pass.depth_um / table.scenario().graft.thickness_um));
            break;
        case DriveEvent::entered_face:
            break;
        case DriveEvent::left_front:
            table.say("Out of the host: pull the needle through.");
            break;
        case DriveEvent::through_back:
            table.say("Through the back: the needle is in the chamber. Back it out.", true);
            table.note(EventKind::through_back);
            if (!shallow) break;
            ++table.iris_caught;
            table.note(EventKind::iris_caught);
            table.say("The chamber is shallow: the needle has taken iris.", true);
            break;
        case DriveEvent::back_in_tissue:
            break;
        case DriveEvent::withdrawn:
            return withdrawn(table, side);
    }
    return {};
}

}  // namespace

Next Drive::act(Table& table, const Action& action) {
    BiteInHand& bite = table.bite;
    if (action.kind == Action::Kind::drag) bite.turn_by(kDragTurn_deg_per_mm * (action.at.x + action.at.y));
    const double turn = action.amount * kTurnStep_deg, push = action.amount * kPushStep_mm;
    switch (action.command) {
        case Command::right:
        case Command::turn_forward:
            bite.turn_by(turn);
            break;
        case Command::left:
        case Command::turn_back:
            bite.turn_by(-turn);
            break;
        case Command::push_out:
            bite.shift_by({push, 0.0});
            break;
        case Command::push_in:
            bite.shift_by({-push, 0.0});
            break;
        case Command::up:
            bite.shift_by({0.0, push});
            break;
        case Command::down:
            bite.shift_by({0.0, -push});
            break;
        case Command::back:
            bite.back_out();
            break;
        case Command::primary:
            return side == BiteSide::donor ? re_grasp(table) : pull_through(table);
        default:
            break;
    }
    return {};
}

Next Drive::step(Table& table) {
    const std::vector<DriveEvent> events = table.bite.step(table.eversion_deg, tremor(table), table.donor.pose());
    const Point push = table.bite.push_mN();
    if (push.x != 0.0 || push.y != 0.0) table.donor.push(table.bite.tip_in_field(table.donor.pose()), push);
    const double before = table.bite_trauma_uJ;
    table.bite_trauma_uJ = std::max(before, table.bite.section()->trauma_uJ());
    count_trauma(table, table.trauma_uJ + table.bite_trauma_uJ - before);
    Next next;
    for (const DriveEvent event : events)
        if (Next after = heed(table, side, event)) next = std::move(after);
    return next;
}

void Drive::show(const Table&, Snapshot& shot) const {
    using enum Command;
    const bool donor = side == BiteSide::donor;
    shot.title = donor ? "Drive: donor" : "Drive: rim";
    shot.prompt = donor ? "Turn the wrist until the tip stands in the wound; then re-grasp."
                        : "Turn the tip up and out of the host, then pull it through.";
    shot.wheel = turn_forward;
    offer(shot, {{primary, donor ? "Re-grasp" : "Pull through"}});
    offer_lip(shot);
    offer(shot, {{turn_forward, "Turn on"},
                 {turn_back, "Turn back"},
                 {push_out, "Push out"},
                 {push_in, "Push in"},
                 {up, "Raise"},
                 {down, "Press"},
                 {back, "Back out"}});
}

}  // namespace graftwright::stage
