// Keys by the names that files and bindings use ("Space", "Left", "Shift+Left", "A", "F10"), and back to
// inputs: what the window says becomes what files/hand_record.h knows.
#pragma once

#include <optional>
#include <string>

#include <SFML/Window/Event.hpp>

#include "base/point.h"
#include "files/hand_record.h"

namespace graftwright {

// "" for keys that have no name here (modifiers alone).
[[nodiscard]] std::string key_name(const sf::Event::KeyEvent& key);

// The input of a window event; `canvas` is where the pointer is (game/layout.h). Nothing for
// events that are no input.
[[nodiscard]] std::optional<Input> input_of(const sf::Event& event, Point canvas);

}  // namespace graftwright
