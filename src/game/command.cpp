#include "game/command.h"

#include <algorithm>
#include <array>
#include <utility>

namespace graftwright {
namespace {

using Entry = std::pair<Command, std::string_view>;
using enum Command;

constexpr std::array kNames{
    Entry{primary, "primary"},
    Entry{back, "back"},
    Entry{left, "left"},
    Entry{right, "right"},
    Entry{up, "up"},
    Entry{down, "down"},
    Entry{forceps, "forceps"},
    Entry{carry_left, "carry_left"},
    Entry{carry_right, "carry_right"},
    Entry{carry_up, "carry_up"},
    Entry{carry_down, "carry_down"},
    Entry{evert_more, "evert_more"},
    Entry{evert_less, "evert_less"},
    Entry{skew_more, "skew_more"},
    Entry{skew_less, "skew_less"},
    Entry{turn_forward, "turn_forward"},
    Entry{turn_back, "turn_back"},
    Entry{push_out, "push_out"},
    Entry{push_in, "push_in"},
    Entry{tip_deeper, "tip_deeper"},
    Entry{tip_higher, "tip_higher"},
    Entry{tighter, "tighter"},
    Entry{looser, "looser"},
    Entry{let_go, "let_go"},
    Entry{throw_clockwise, "throw_clockwise"},
    Entry{throw_counter, "throw_counter"},
    Entry{turns_more, "turns_more"},
    Entry{turns_less, "turns_less"},
    Entry{bury_donor, "bury_donor"},
    Entry{bury_host, "bury_host"},
    Entry{running_thread, "running_thread"},
    Entry{tie_run, "tie_run"},
    Entry{work_round, "work_round"},
    Entry{cut_out, "cut_out"},
    Entry{next_bite, "next_bite"},
    Entry{previous_bite, "previous_bite"},
    Entry{undo, "undo"},
    Entry{ring_check, "ring_check"},
    Entry{leak_check, "leak_check"},
    Entry{wash, "wash"},
    Entry{sweep, "sweep"},
    Entry{dry, "dry"},
    Entry{stain, "stain"},
    Entry{raise_pressure, "raise_pressure"},
    Entry{lower_pressure, "lower_pressure"},
    Entry{refill, "refill"},
    Entry{finish, "finish"},
    Entry{fine, "fine"},
    Entry{pause, "pause"},
    Entry{flip_view, "flip_view"},
    Entry{twin, "twin"},
};

}  // namespace

std::string_view command_name(Command command) {
    for (const auto& [value, name] : kNames)
        if (value == command) return name;
    return "none";
}

Command command_from_name(std::string_view name) {
    for (const auto& [value, known] : kNames)
        if (known == name) return value;
    return none;
}

std::vector<Command> all_commands() {
    std::vector<Command> commands;
    for (const auto& entry : kNames) commands.push_back(entry.first);
    return commands;
}

// Letters by their word where one was free; the arrows and Space do most of the work.
KeyBindings::KeyBindings()
    : bindings_{{"Space", primary},   {"Enter", primary},     {"Backspace", back}, {"Left", left},
                {"Right", right},     {"Up", up},             {"Down", down},      {"F", forceps},
                {"E", evert_more},    {"D", evert_less},      {"K", skew_more},    {"J", skew_less},
                {"X", turn_forward},  {"Z", turn_back},       {"H", push_out},     {"G", push_in},
                {"N", tip_deeper},    {"U", tip_higher},      {"T", tighter},      {"Y", looser},
                {"O", let_go},        {"C", throw_clockwise}, {"A", throw_counter}, {"+", turns_more},
                {"-", turns_less},    {"1", bury_donor},      {"2", bury_host},    {"Delete", cut_out},
                {"3", running_thread}, {"4", tie_run},    {"5", work_round},
                {"]", next_bite},     {"[", previous_bite},   {"Q", undo},         {"R", ring_check},
                {"L", leak_check},    {"W", wash},            {"S", sweep},        {"B", dry},
                {"I", stain},         {"PageUp", raise_pressure}, {"PageDown", lower_pressure}, {"M", refill},
                {"F10", finish},      {"Tab", fine},          {"P", pause},        {"V", flip_view},
                {"F2", twin},         {"Shift+Left", carry_left}, {"Shift+Right", carry_right},
                {"Shift+Up", carry_up}, {"Shift+Down", carry_down}} {}

Command KeyBindings::command(std::string_view key) const {
    const auto found = std::find_if(bindings_.begin(), bindings_.end(),
                                    [key](const KeyBinding& binding) { return binding.key == key; });
    return found == bindings_.end() ? none : found->command;
}

std::string KeyBindings::key_of(Command command) const {
    const auto found = std::find_if(bindings_.begin(), bindings_.end(),
                                    [command](const KeyBinding& binding) { return binding.command == command; });
    return found == bindings_.end() ? std::string() : found->key;
}

void KeyBindings::bind(std::string_view key, Command command) {
    std::erase_if(bindings_,
                  [&](const KeyBinding& binding) { return binding.key == key || binding.command == command; });
    bindings_.push_back({std::string(key), command});
}

std::string_view arrow_sign(std::string_view key) {
    static constexpr std::array<std::pair<std::string_view, std::string_view>, 4> kArrows{
        {{"Left", "←"}, {"Right", "→"}, {"Up", "↑"}, {"Down", "↓"}}};
    for (const auto& [name, sign] : kArrows)
        if (key == name) return sign;
    return "";
}

}  // namespace graftwright
