// How somebody likes to play: kept between starts in a small JSON file of the user's own folder.
#pragma once

#include <string>

#include "base/result.h"
#include "game/command.h"

namespace graftwright {

struct Settings {
    std::string trainee;  // a label of the trainee's own choice
    bool left_handed = false;
    bool examiner_view = false;
    bool reduced_motion = false;
    bool sound = true;
    KeyBindings keys;
};

// A missing file gives the defaults; one that can't be understood, or of another version, is a fault:
// what of it is a sentence's end ("can't be understood"). The file stays as it is.
[[nodiscard]] Result<Settings> read_settings(const std::string& path);
// Throws std::runtime_error where the disk won't. Written beside the old one and then put in its place.
void write_settings(const std::string& path, const Settings& settings);

}  // namespace graftwright
