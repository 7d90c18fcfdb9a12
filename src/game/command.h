// What a hand can ask for, by name: keys, buttons of the console and scripted hands all say it with these.
//
// `primary` is always the natural next step of the stage (set the needle down, drive, re-grasp, pull
// through, lay the throw, trim, bury, go on). Steps of one press are named beside each; `fine` divides the
// continuous ones by five and latches, so that nothing needs two controls held at once.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "game/layout.h"

namespace graftwright {

enum class Command {
    none,
    primary,         // the natural next step
    back,            // back out, abandon this bite or leave this screen
    left, right, up, down,  // by stage: aim along / across the wound, pitch and tip, turn, tension
    forceps,         // latch or let go, at the pointer (by key: at the lip nearest to the aim)
    carry_left, carry_right, carry_up, carry_down,  // what the forceps hold, as seen on the screen; 0.02 mm
    evert_more, evert_less,  // 2°
    skew_more, skew_less,    // 1°, + counter-clockwise
    turn_forward, turn_back, // 0.5°
    push_out, push_in,       // 0.02 mm along x, the wrong way to drive
    tip_deeper, tip_higher,  // 0.02 mm, in approach
    tighter, looser,         // 1 mN
    let_go,          // of the ends
    throw_clockwise, throw_counter,
    turns_more, turns_less,  // of the next throw
    bury_donor, bury_host,
    running_thread,  // latch: the next bite belongs to a running thread, or is a single one
    tie_run,         // the ends of the run that is laid come together
    work_round,      // its slack, span by span to the knot, with forceps
    cut_out,         // the selected bite, and redo it
    next_bite, previous_bite,  // select
    undo,            // where the level's aids allow
    ring_check, leak_check,
    wash, sweep, dry, stain, raise_pressure, lower_pressure,  // leak check; 1 mmHg
    refill,          // more viscoelastic into a chamber that has shallowed
    finish,          // to the debrief
    fine, pause, flip_view, twin,  // latches
};

[[nodiscard]] std::string_view command_name(Command command);
[[nodiscard]] Command command_from_name(std::string_view name);  // none where unknown
[[nodiscard]] std::vector<Command> all_commands();

// A key of the keyboard, by the name that files use ("Space", "Left", "A", "F1"), to a command.
struct KeyBinding {
    std::string key;
    Command command = Command::none;
};
class KeyBindings {
  public:
    KeyBindings();  // the shipped ones
    [[nodiscard]] Command command(std::string_view key) const;
    [[nodiscard]] std::string key_of(Command command) const;  // "" where unbound
    void bind(std::string_view key, Command command);
    [[nodiscard]] const std::vector<KeyBinding>& all() const { return bindings_; }

  private:
    std::vector<KeyBinding> bindings_;
};

// "Left" → "←"; "" for a key that is no arrow.
[[nodiscard]] std::string_view arrow_sign(std::string_view key);

// A button of the console; the view draws it where it stands, the game finds what a click meant.
struct ConsoleButton {
    Command command = Command::none;
    std::string label;  // in trade words, two or three of them
    std::string key;    // its key, to be shown small
    Rect place;         // canvas
    bool enabled = true, lit = false;  // lit: a latch that is on
    bool asked = false;                // what the lesson asks for next
};

}  // namespace graftwright
