#include "game/input_map.h"

#include <cmath>
#include <string>

#include "base/point.h"

namespace graftwright {
namespace {

constexpr double kFine = 0.2;  // a fifth of a step: 0.1° of the needle
constexpr double kCarryStep_mm = 0.02;

bool counts_steps(Command command) {
    switch (command) {
        case Command::left:
        case Command::right:
        case Command::up:
        case Command::down:
        case Command::evert_more:
        case Command::evert_less:
        case Command::skew_more:
        case Command::skew_less:
        case Command::turn_forward:
        case Command::turn_back:
        case Command::push_out:
        case Command::push_in:
        case Command::tip_deeper:
        case Command::tip_higher:
        case Command::tighter:
        case Command::looser:
            return true;
        default:
            return false;
    }
}

Command command_of(const std::string& key, const KeyBindings& keys) {
    return key.starts_with('@') ? command_from_name(key.substr(1)) : keys.command(key);
}

Action at_point(Action::Kind kind, Point at) { return {kind, Command::none, 1.0, at}; }

}  // namespace

std::string InputMap::meaning_of(const std::string& key) const {
    const Command command = command_of(key, keys_);
    return command == Command::none ? key : "@" + std::string(command_name(command));
}

std::vector<Action> InputMap::asked(Command command, double steps, const Snapshot& shot) {
    if (command == Command::none) return {};
    if (command == Command::flip_view) {
        layout_.examiner_view = !layout_.examiner_view;
        return {};
    }
    const double carry = kCarryStep_mm * (shot.fine ? kFine : 1.0);
    const double sense = layout_.examiner_view ? carry : -carry;  // the surgeon's view is turned by half
    switch (command) {
        case Command::carry_left:
            return {at_point(Action::Kind::carry, {-sense, 0.0})};
        case Command::carry_right:
            return {at_point(Action::Kind::carry, {sense, 0.0})};
        case Command::carry_up:
            return {at_point(Action::Kind::carry, {0.0, sense})};
        case Command::carry_down:
            return {at_point(Action::Kind::carry, {0.0, -sense})};
        default:
            break;
    }
    const double amount = counts_steps(command) && shot.fine ? kFine * steps : steps;
    return {{Action::Kind::command, command, amount, {}}};
}

std::vector<Action> InputMap::pressed(const Input& input, const Snapshot& shot) {
    for (const ConsoleButton& button : shot.buttons)
        if (button.place.holds(input.x, input.y))
            return button.enabled && input.button == 0 ? asked(button.command, 1.0, shot) : std::vector<Action>{};
    if (layout_.section().holds(input.x, input.y)) {
        dragging_ = true;
        return {};
    }
    if (!layout_.field().holds(input.x, input.y)) return {};
    const Point mm = layout_.canvas_to_field({input.x, input.y});
    if (input.button == 1) {
        carrying_ = !shot.forceps;
        return {at_point(Action::Kind::forceps, mm)};
    }
    if (shot.pointer_does == PointerDoes::nothing) return {};
    // On the host a click selects, on the donor it sets the needle down.
    const bool on_host = std::hypot(mm.x, mm.y) > 0.5 * shot.scenario->eye.bed_diameter_mm;
    if (shot.pointer_does == PointerDoes::choose || on_host) return {at_point(Action::Kind::select, mm)};
    return {at_point(Action::Kind::point, mm), {Action::Kind::command, Command::primary, 1.0, {}}};
}

std::vector<Action> InputMap::moved(const Input& input, const Snapshot& shot) {
    const Point before = pointer_;
    if (dragging_) {
        const double scale = (shot.fine ? kFine : 1.0) / kSectionPixelsPerMm;
        return {at_point(Action::Kind::drag, {scale * (input.x - before.x), scale * (before.y - input.y)})};
    }
    if (!layout_.field().holds(input.x, input.y)) return {};
    const Point now = layout_.canvas_to_field({input.x, input.y});
    if (carrying_) {
        const Point then = layout_.canvas_to_field(before);
        return {at_point(Action::Kind::carry, {now.x - then.x, now.y - then.y})};
    }
    if (shot.pointer_does != PointerDoes::aim) return {};
    return {at_point(Action::Kind::point, now)};
}

std::vector<Action> InputMap::map(const Input& input, const Snapshot& shot) {
    std::vector<Action> actions;
    switch (input.what) {
        case HandDoes::move:
            actions = moved(input, shot);
            break;
        case HandDoes::press:
            actions = pressed(input, shot);
            break;
        case HandDoes::release:
            dragging_ = carrying_ = false;
            break;
        case HandDoes::wheel:
            return asked(shot.wheel, input.notches, shot);
        case HandDoes::key:
            return asked(command_of(input.key, keys_), 1.0, shot);
    }
    pointer_ = {input.x, input.y};
    return actions;
}

}  // namespace graftwright
