// Every key can be changed: what the hand can ask for, in groups; its key; and a new one on the next press.
//
// A key that another command held is taken, and the screen says whose it was and that it has none now.
#pragma once

#include <optional>
#include <string>

#include "game/command.h"
#include "view/kit/ui.h"

namespace graftwright {

class KeysScreen {
  public:
    // Between Widgets::begin and draw. True: done, `keys` is as wanted.
    [[nodiscard]] bool draw(Ui& ui, KeyBindings& keys);
    // The window hands over the next key while one is awaited (key_names.h); "Escape" keeps the old one.
    [[nodiscard]] bool awaits_key() const { return waiting_for_ != Command::none; }
    void take_key(const std::string& key, KeyBindings& keys);

  private:
    void draw_group(Ui& ui, const KeyBindings& keys, std::size_t group, double width);
    void draw_row(Ui& ui, const KeyBindings& keys, Command command, const char* words, double width);

    Command waiting_for_ = Command::none;
    std::string note_;
    bool loss_ = false;  // the note tells of a command that lost its key
};

// What a command does, in words for the table.
[[nodiscard]] std::string command_words(Command command);
// All keys of a command: "Space, Enter"; "" where it has none.
[[nodiscard]] std::string keys_of(const KeyBindings& keys, Command command);

}  // namespace graftwright
