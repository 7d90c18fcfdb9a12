// `play`: the game in a window, or a scripted hand without one.
#pragma once

#include <string>

namespace graftwright {

struct PlayCommand {
    std::string scenario;      // id or file; "": choose in the game
    std::string levels;        // folder; "": the shipped one
    std::string hand;          // scripted hand, file
    std::string save;          // where the finished attempt goes; "": the data folder
    std::string logbook;       // file or URL; "": the one in the data folder, and none without a window
    int frames = 0;            // draw so many frames, print their times, leave
    bool no_window = false;    // a scripted hand plays without one

    [[nodiscard]] int run() const;
};

}  // namespace graftwright
