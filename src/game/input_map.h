// From the device to the game: pointer, buttons, wheel and keys become actions.
//
// Mouse, keyboard, trackpad without a wheel and pen all do: every command has a key and a button in the
// console; the wheel and a drag in the section turn the needle at the same resolution. Nothing needs two
// controls held at once. Field: left button sets the needle down (on the host: selects a bite), right
// button latches the forceps, and carries the donor while it stays down.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "base/point.h"
#include "files/hand_record.h"
#include "game/action.h"
#include "game/snapshot.h"

namespace graftwright {

class InputMap {
  public:
    explicit InputMap(KeyBindings keys = {}, bool left_handed = false, bool examiner_view = false)
        : keys_(std::move(keys)), layout_{left_handed, examiner_view} {}
    // Actions of one input, given what is on the screen.
    [[nodiscard]] std::vector<Action> map(const Input& input, const Snapshot& shot);

    // A key by what it means: "@primary"; such names are keys too. Unbound keys stay as they are.
    [[nodiscard]] std::string meaning_of(const std::string& key) const;

    [[nodiscard]] const Layout& layout() const { return layout_; }
    [[nodiscard]] const KeyBindings& keys() const { return keys_; }
    [[nodiscard]] Point pointer() const { return pointer_; }  // canvas

  private:
    [[nodiscard]] std::vector<Action> pressed(const Input& input, const Snapshot& shot);
    [[nodiscard]] std::vector<Action> moved(const Input& input, const Snapshot& shot);
    [[nodiscard]] std::vector<Action> asked(Command command, double steps, const Snapshot& shot);

    KeyBindings keys_;
    Layout layout_;
    Point pointer_;
    bool dragging_ = false, carrying_ = false;
};

}  // namespace graftwright
