// Whether somebody is there to show a window.
#pragma once

#include <string>

namespace graftwright {

// Why nobody is, in a few words; "": a window can be opened. To be asked first: SFML ends the program where it can't.
[[nodiscard]] std::string display_fault();

}  // namespace graftwright
