// The console: what the stage offers, and what is always offered, as buttons where they stand; everything that the hand
// can ask for is reachable with one pointer button.
#pragma once

#include <vector>

#include "game/command.h"
#include "game/snapshot.h"

namespace graftwright {

inline constexpr double kConsoleButtonsTop = 196.0;  // below it the buttons, above it gauge and tray (canvas px)

[[nodiscard]] std::vector<ConsoleButton> console_buttons(const Snapshot& shot, const KeyBindings& keys);

}  // namespace graftwright
