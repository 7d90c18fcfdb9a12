// Over a level that stands still: go on, look at the keys, or leave it.
#pragma once

#include "view/kit/ui.h"

namespace graftwright {

enum class PauseChoice { none, go_on, keys, give_up, quit };

// Between Widgets::begin and draw. Escape and Space go on too; that is the window's business.
[[nodiscard]] PauseChoice draw_pause_screen(Ui& ui, const char* level, bool trial = false);

}  // namespace graftwright
