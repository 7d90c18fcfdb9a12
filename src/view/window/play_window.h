// The game in a window: the loop that takes events, lets the session tick, and draws its snapshots.
//
// Ticks are fixed; a frame plays as many as time has passed, or fewer where an answer is late: no frame
// waits for a solver. A scripted hand feeds the same inputs that a real one would.
#pragma once

#include <optional>
#include <string>

#include "files/scenario.h"
#include "game/input.h"
#include "view/window/frame_clock.h"

namespace graftwright {

struct PlayOptions {
    std::string levels;                // folder
    std::optional<Scenario> scenario;  // chosen on the command line
    std::string scenario_path;
    std::optional<HandRecord> hand;  // plays instead of the device
    std::string data;                // folder of the user's own: journal, settings, attempts
    std::string save;                // where the finished attempt goes; "": into `data`
    std::string logbook;             // file or URL that it is entered in; "": the file in `data`
    std::string program;             // this program's version, for the logbook
    int frames = 0;                  // draw so many, report, leave; 0: until closed
    double seconds_before = 0.0;     // from the program's start to here
};

// Runs until the window is closed. Throws std::runtime_error where the machine won't.
[[nodiscard]] FrameReport play_in_window(const PlayOptions& options);

}  // namespace graftwright
