// Looking and testing: equal on both sides after bites 2 and 4, the rings, and whether it leaks.
#include <optional>
#include <utility>

#include "files/event_kind.h"
#include "game/stage/stages.h"

namespace graftwright::stage {
namespace {

constexpr double kPressureStep_mmHg = 1.0;

Next go_back(std::optional<QuestionInHand>& asking) {
    if (asking) return Answer(std::move(*asking));
    return Aim();
}

// What can be done to the chamber while the wound is watched for leaks.
void treat(Table& table, const Action& action) {
    Chamber& chamber = table.chamber;
    const double pressure = chamber.view().pressure_mmHg, step = action.amount * kPressureStep_mmHg;
    switch (action.command) {
        case Command::wash:
            chamber.wash();
            break;
        case Command::sweep:
            chamber.sweep();
            break;
        case Command::dry:
            chamber.dry();
            break;
        case Command::stain:
            chamber.stain();
            break;
        case Command::refill:
            chamber.refill();
            break;
        case Command::up:
        case Command::raise_pressure:
            if (table.wound && table.wound->rigid)
                table.say("So few bites hold no pressure: saline runs out as fast as it comes.", true);
            else
                chamber.set_pressure(pressure + step);
            break;
        case Command::down:
        case Command::lower_pressure:
            chamber.set_pressure(pressure - step);
            break;
        default:
            break;
    }
}

bool asks_back(Command command, Command check) {
    return command == Command::back || command == Command::primary || command == check;
}

}  // namespace

Next Look::act(Table& table, const Action& action) {
    if (action.command == Command::primary) return Aim();
    if (action.command != Command::cut_out) return {};
    table.selected = table.threads.attempt.bites.size() - 1;
    table.cut_out_selected();
    return Aim();
}

void Look::show(const Table&, Snapshot& shot) const {
    shot.title = "Look";
    shot.prompt =
        "Look: is there as much donor on the left as on the right? Go on, or cut the last bite out and redo it.";
    offer(shot, {{Command::primary, "Go on"}, {Command::cut_out, "Cut last out"}});
}

RingCheck::RingCheck(Table& table, std::optional<QuestionInHand> question) : asking(std::move(question)) {
    table.note(EventKind::ring_check);
}

Next RingCheck::act(Table&, const Action& action) {
    if (asks_back(action.command, Command::ring_check)) return go_back(asking);
    return {};
}

void RingCheck::ask(const Table& table, WoundQuestion& question) const {
    question.pressure_mmHg = table.scenario().eye.pressure_mmHg;
    question.map = true;
}

void RingCheck::show(const Table&, Snapshot& shot) const {
    shot.title = "Ring check";
    shot.prompt = "Read the rings: narrow where the cornea is steep.";
    offer(shot, {{Command::back, "Back"}});
}

LeakCheck::LeakCheck(Table& table, std::optional<QuestionInHand> question) : asking(std::move(question)) {
    table.chamber.begin_check();
    table.note(EventKind::leak_check);
}

Next LeakCheck::act(Table& table, const Action& action) {
    if (asks_back(action.command, Command::leak_check)) return go_back(asking);
    treat(table, action);
    return {};
}

Next LeakCheck::step(Table& table) {
    table.chamber.look(table.wound.get());
    return {};
}

void LeakCheck::ask(const Table& table, WoundQuestion& question) const {
    question.pressure_mmHg = table.chamber.view().pressure_mmHg;
}

void LeakCheck::show(const Table& table, Snapshot& shot) const {
    using enum Command;
    const LeakView& leak = table.chamber.view();
    shot.title = "Leak check";
    shot.prompt = "Wash to saline, sweep, dry, stain, then raise the pressure and watch the wound.";
    shot.leak = leak;
    shot.wheel = raise_pressure;
    offer(shot, {{wash, "Wash", leak.saline},
                 {sweep, "Sweep", leak.swept},
                 {dry, "Dry", leak.dry},
                 {stain, "Stain", leak.stained},
                 {raise_pressure, "Pressure +"},
                 {lower_pressure, "Pressure -"},
                 {back, "Back"}});
}

}  // namespace graftwright::stage
