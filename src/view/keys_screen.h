// Every key can be changed: a table of what the hand can ask for, its key, and a new one on the next press.
#pragma once

#include <optional>
#include <string>

#include "game/command.h"
#include "view/ui.h"

namespace graftwright {

class KeysScreen {
  public:
    // Between Widgets::begin and draw. True: done, `keys` is as wanted.
    [[nodiscard]] bool draw(Ui& ui, KeyBindings& keys);
    // The window hands over the next key while one is awaited (key_names.h); "Escape" keeps the old one.
    [[nodiscard]] bool awaits_key() const { return waiting_for_ != Command::none; }
    void take_key(const std::string& key, KeyBindings& keys);

  private:
    Command waiting_for_ = Command::none;
    std::string note_;
};

// What a command does, in words for the table.
[[nodiscard]] std::string command_words(Command command);

}  // namespace graftwright
