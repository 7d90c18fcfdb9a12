// Keys by the names that files and bindings use ("Space", "Left", "Shift+Left", "A", "F10"), and back to
// device events: what the window says becomes what game/device_event.h knows.
#pragma once

#include <optional>
#include <string>

#include <SFML/Window/Event.hpp>

#include "game/device_event.h"
#include "hand/needle.h"

namespace graftwright {

// "" for keys that have no name here (modifiers alone).
[[nodiscard]] std::string key_name(const sf::Event::KeyEvent& key);

// The device event of a window event; `canvas` is where the pointer is (game/layout.h). Nothing for
// events that are no input.
[[nodiscard]] std::optional<DeviceEvent> device_event(const sf::Event& event, Point canvas);

}  // namespace graftwright
