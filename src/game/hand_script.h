// A scripted hand's file (files/hand_record.h) and the inputs that the game plays.
#pragma once

#include <vector>

#include "files/hand_record.h"
#include "game/game.h"

namespace graftwright {

// Each event at the tick nearest to its time; "times" of it every second tick.
[[nodiscard]] std::vector<TimedInput> inputs_of(const HandRecord& hand);
// Inputs as events; equal ones two ticks apart become one with "times".
[[nodiscard]] std::vector<HandInput> hand_events(const std::vector<TimedInput>& inputs);

}  // namespace graftwright
