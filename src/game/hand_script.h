// A scripted hand: timed input events in a file, played as if they came from the device.
//
//   { "format": "graftwright-hand", "version": 1, "scenario": "sixteen", "trainee": "…", "started": "…",
//     "left_handed": false, "examiner_view": false,
//     "events": [ {"t_s": 0.5, "do": "key", "key": "Space", "times": 1} … ] }
// Events as in device_json.h, in order of time; "times" repeats one a tick every second tick (a key or a
// notch turned n times). A time is taken to the tick at or after it. levels/FORMAT.md has the table.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "game/game.h"

namespace graftwright {

struct HandScript {
    std::string scenario = "sixteen", trainee = "scripted hand", started;
    bool left_handed = false, examiner_view = false;
    std::vector<TimedInput> inputs;
};

[[nodiscard]] Result<HandScript> read_hand_script(std::string_view text, const std::string& file_name);
// Inputs as a script; equal inputs two ticks apart become one with "times".
[[nodiscard]] std::string write_hand_script(const HandScript& script);

}  // namespace graftwright
