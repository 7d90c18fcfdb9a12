#include "view/window/keys_screen.h"

#include <array>
#include <utility>
#include <vector>

#include <fmt/format.h>

namespace graftwright {
namespace {

using enum Command;

struct Row {
    Command command;
    const char* words;
};
struct Group {
    const char* name;
    std::vector<Row> rows;
};

const std::vector<Group>& groups() {
    static const std::vector<Group> all{
        {"Any time",
         {{primary, "The natural next step"},
          {back, "Back out, give up, leave"},
          {left, "Left: aim, deeper, turn back"},
          {right, "Right: aim, higher, turn on"},
          {up, "Up: outward, flatter, pull"},
          {down, "Down: inward, steeper, ease"},
          {fine, "Fine steps on and off"},
          {pause, "Pause and go on"},
          {flip_view, "Surgeon's or examiner's view"},
          {undo, "Undo, where the level allows"},
          {finish, "Finish and see the debrief"}}},
        {"Bites",
         {{next_bite, "Select the next bite"},
          {previous_bite, "Select the bite before"},
          {cut_out, "Cut the selected bite out"},
          {running_thread, "Running thread or single bites"},
          {tie_run, "Tie the run that is laid"},
          {work_round, "Work its slack round"},
          {twin, "Ideal twin, where allowed"}}},
        {"Hold and aim",
         {{forceps, "Forceps: hold the lip, let go"},
          {carry_left, "Carry the donor left"},
          {carry_right, "Carry the donor right"},
          {carry_up, "Carry the donor up"},
          {carry_down, "Carry the donor down"},
          {evert_more, "Lift the lip"},
          {evert_less, "Lower the lip"},
          {skew_more, "Skew counter-clockwise"},
          {skew_less, "Skew clockwise"}}},
        {"Drive",
         {{turn_forward, "Turn the needle on"},
          {turn_back, "Turn the needle back"},
          {push_out, "Push the needle outward"},
          {push_in, "Push the needle inward"},
          {tip_deeper, "Tip deeper in the wound"},
          {tip_higher, "Tip higher in the wound"}}},
        {"Tie and bury",
         {{tighter, "Pull the ends tighter"},
          {looser, "Ease the ends"},
          {let_go, "Let the ends go"},
          {throw_clockwise, "Throw to the right"},
          {throw_counter, "Throw to the left"},
          {turns_more, "More turns in the next throw"},
          {turns_less, "Fewer turns in the next throw"},
          {bury_donor, "Turn the knot into the donor"},
          {bury_host, "Turn the knot into the rim"}}},
        {"Look and test",
         {{ring_check, "Ring check"},
          {leak_check, "Leak check"},
          {wash, "Wash to saline"},
          {sweep, "Sweep the wound for iris"},
          {dry, "Dry the surface"},
          {stain, "Stain it"},
          {raise_pressure, "Raise the eye's pressure"},
          {lower_pressure, "Lower the eye's pressure"},
          {refill, "More viscoelastic"}}},
    };
    return all;
}

// Two groups a column, so that three columns come out about as long.
constexpr std::size_t kColumns = 3, kGroupsAColumn = 2;

}  // namespace

std::string command_words(Command command) {
    for (const Group& group : groups())
        for (const Row& row : group.rows)
            if (row.command == command) return row.words;
    return std::string(command_name(command));
}

std::string keys_of(const KeyBindings& keys, Command command) {
    std::string words;
    for (const KeyBinding& binding : keys.all())
        if (binding.command == command) words += (words.empty() ? "" : ", ") + binding.key;
    return words;
}

void KeysScreen::take_key(const std::string& key, KeyBindings& keys) {
    const Command wanted = std::exchange(waiting_for_, none);
    note_.clear();
    if (key.empty() || key == "Escape") return;
    const Command taken_from = keys.command(key);
    keys.bind(key, wanted);
    loss_ = taken_from != none && taken_from != wanted;
    note_ = loss_ ? fmt::format("{} was the key of “{}”, which has none now.", key, command_words(taken_from))
                  : fmt::format("{} is now the key of “{}”.", key, command_words(wanted));
}

bool KeysScreen::draw(Ui& ui, KeyBindings& keys) {
    constexpr double kEdge = 24.0, kTop = 82.0, kHeight = 646.0, kBetween = 12.0, kInset = 16.0;
    constexpr double kEach = (kCanvasWidth - 2.0 * kEdge - (kColumns - 1.0) * kBetween) / kColumns;
    ui.begin_screen("keys");
    ui.text_at(kEdge, 20.0, "Keys", Face::title);
    ui.text_at(kEdge + 110.0, 36.0,
               "Choose a key, then press the new one. Escape keeps the old one and is always the menu.", Face::body,
               tone::quiet);
    for (std::size_t column = 0; column < kColumns; ++column) {
        const std::string name = fmt::format("keys {}", column);
        ui.begin_panel(name.c_str(), {kEdge + static_cast<double>(column) * (kEach + kBetween), kTop, kEach, kHeight},
                       tone::panel, kInset);
        for (std::size_t i = 0; i < kGroupsAColumn; ++i)
            draw_group(ui, keys, kGroupsAColumn * column + i, kEach - 2.0 * kInset - 12.0);
        ui.end_panel();
    }
    ui.text_at(kEdge, 751.0, note_, Face::body, loss_ ? tone::warning : tone::accent);
    ui.move_to(kCanvasWidth - kEdge - 396.0, 742.0);
    if (ui.button("The shipped keys again", ButtonKind::plain, 220.0)) {
        keys = KeyBindings();
        note_.clear();
    }
    ui.move_to(kCanvasWidth - kEdge - 164.0, 742.0);
    const bool done = ui.button("Done", ButtonKind::primary, 164.0);
    ui.end_screen();
    if (done) {
        waiting_for_ = none;
        note_.clear();
    }
    return done;
}

void KeysScreen::draw_group(Ui& ui, const KeyBindings& keys, std::size_t group, double width) {
    ui.text(groups()[group].name, Face::strong, tone::accent);
    for (const Row& row : groups()[group].rows) draw_row(ui, keys, row.command, row.words, width);
    ui.gap(6.0);
}

void KeysScreen::draw_row(Ui& ui, const KeyBindings& keys, Command command, const char* words, double width) {
    constexpr double kKeyWidth = 116.0, kRow = 30.0, kButton = 27.0;
    const std::string key = keys_of(keys, command);
    const bool waiting = waiting_for_ == command;
    const ImVec2 start = ImGui::GetCursorScreenPos();
    ImGui::SetCursorScreenPos({start.x, start.y + ui.px((kButton - ui.line_height(Face::body)) / 2.0)});
    ui.text(words, Face::body, key.empty() ? tone::warning : tone::text);
    ImGui::SetCursorScreenPos({start.x + ui.px(width - kKeyWidth), start.y});
    const std::string shown = waiting ? "press a key" : key.empty() ? "no key" : key;
    const std::string name = fmt::format("##key {}", command_name(command));
    if (ui.button((shown + name).c_str(), waiting ? ButtonKind::primary : ButtonKind::plain, kKeyWidth, kButton))
        waiting_for_ = command;
    ui.note(name);
    ImGui::SetCursorScreenPos({start.x, start.y + ui.px(kRow)});
}

}  // namespace graftwright
