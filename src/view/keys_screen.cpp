#include "view/keys_screen.h"

#include <array>
#include <utility>

namespace graftwright {
namespace {

using enum Command;

constexpr std::array<std::pair<Command, const char*>, 45> kWords{{
    {primary, "The next step: set down, drive, re-grasp, pull through, throw, cut ends"},
    {back, "Back out, give up, leave"},
    {left, "Left: around the wound; tip deeper; turn back"},
    {right, "Right: around the wound; tip higher; turn on"},
    {up, "Up: outward; flatter; raise; pull"},
    {down, "Down: inward; steeper; press; ease"},
    {forceps, "Forceps: hold the lip, let it go"},
    {carry_left, "Carry the donor left"},
    {carry_right, "Carry the donor right"},
    {carry_up, "Carry the donor up"},
    {carry_down, "Carry the donor down"},
    {evert_more, "Lift the lip"},
    {evert_less, "Lower the lip"},
    {skew_more, "Skew the plane, counter-clockwise"},
    {skew_less, "Skew the plane, clockwise"},
    {turn_forward, "Turn the needle on"},
    {turn_back, "Turn the needle back"},
    {push_out, "Push the needle outward"},
    {push_in, "Push the needle inward"},
    {tip_deeper, "Tip deeper in the wound"},
    {tip_higher, "Tip higher in the wound"},
    {tighter, "Pull the ends tighter"},
    {looser, "Ease the ends"},
    {let_go, "Let the ends go"},
    {throw_clockwise, "Throw to the right"},
    {throw_counter, "Throw to the left"},
    {turns_more, "More turns in the next throw"},
    {turns_less, "Fewer turns in the next throw"},
    {bury_donor, "Turn the knot into the donor"},
    {bury_host, "Turn the knot into the rim"},
    {cut_out, "Cut the selected bite out"},
    {next_bite, "Select the next bite"},
    {previous_bite, "Select the bite before"},
    {undo, "Undo, where the level allows"},
    {ring_check, "Ring check"},
    {leak_check, "Leak check"},
    {wash, "Wash to saline"},
    {sweep, "Sweep the wound for iris"},
    {dry, "Dry the surface"},
    {stain, "Stain it"},
    {raise_pressure, "Raise the eye's pressure"},
    {lower_pressure, "Lower the eye's pressure"},
    {refill, "More viscoelastic"},
    {finish, "Finish and see the debrief"},
    {fine, "Fine steps on and off"},
}};

}  // namespace

std::string command_words(Command command) {
    for (const auto& [known, words] : kWords)
        if (known == command) return words;
    switch (command) {
    case pause: return "Pause and go on";
    case flip_view: return "Turn the view: surgeon's, examiner's";
    case twin: return "Ideal twin in the debrief";
    default: return std::string(command_name(command));
    }
}

void KeysScreen::take_key(const std::string& key, KeyBindings& keys) {
    const Command wanted = std::exchange(waiting_for_, none);
    note_.clear();
    if (key.empty() || key == "Escape") return;
    const Command taken_from = keys.command(key);
    keys.bind(key, wanted);
    if (taken_from != none && taken_from != wanted)
        note_ = key + " was the key of “" + command_words(taken_from) + "”, which has none now.";
}

bool KeysScreen::draw(Ui& ui, KeyBindings& keys) {
    constexpr Rect kPlace{190.0, 40.0, 900.0, 720.0};
    ui.begin_screen("keys");
    ui.begin_panel("keys panel", kPlace, tone::panel, 22.0);
    ui.text("Keys", Face::heading);
    ui.wrapped("Choose a row, then press the new key. Escape keeps the old one and is always the menu.", Face::body, tone::quiet);
    ui.wrapped(note_.empty() ? " " : note_, Face::body, tone::warning);
    ImGui::BeginChild("rows", {0.0F, ui.px(520.0)}, false, ImGuiWindowFlags_NavFlattened);
    for (const Command command : all_commands()) {
        const std::string key = keys.key_of(command);
        const bool waiting = waiting_for_ == command;
        const std::string label = (waiting ? "press a key" : key.empty() ? "none" : key) + "##key " + std::string(command_name(command));
        if (ui.button(label.c_str(), waiting ? ButtonKind::primary : ButtonKind::plain, 150.0, 30.0)) waiting_for_ = command;
        ImGui::SameLine(0.0F, ui.px(16.0));
        ui.text(command_words(command), Face::body, key.empty() ? tone::warning : tone::text);
    }
    ImGui::EndChild();
    ui.gap(6.0);
    const bool done = ui.button("Done", ButtonKind::primary, 160.0);
    ImGui::SameLine(0.0F, ui.px(10.0));
    if (ui.button("The shipped keys again", ButtonKind::plain, 220.0)) {
        keys = KeyBindings();
        note_.clear();
    }
    ui.end_panel();
    ui.end_screen();
    if (done) waiting_for_ = none;
    return done;
}

}  // namespace graftwright
