// Letters for the pictures that are drawn here, whatever Fontconfig was told on this machine.
#pragma once

#include <string>

struct _FcConfig;  // Fontconfig's

namespace graftwright {

// Sees that `config` has the font Inter: its own, else the files of fonts-inter in `folder`. Another font with
// letters may stand in. Throws std::runtime_error where there is none at all: a picture would be of boxes.
void bring_letters(_FcConfig* config, const std::string& folder);
// The same for what is drawn by Pango and Cairo, once for the whole process; the folder as it was found at
// configure time.
void bring_letters();

}  // namespace graftwright
