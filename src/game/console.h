// The console's buttons by stage: everything the hand can ask for, reachable with one pointer button.
#pragma once

#include <vector>

#include "game/command.h"
#include "game/snapshot.h"

namespace graftwright {

inline constexpr double kConsoleButtonsTop = 196.0;  // below it the buttons, above it gauge and tray (canvas px)

[[nodiscard]] std::vector<ConsoleButton> console_buttons(const Snapshot& shot, const KeyBindings& keys);

}  // namespace graftwright
