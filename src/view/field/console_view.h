// Header and console: what is being done, what to do next, gauges of the stage, and the buttons.
#pragma once

#include "game/snapshot.h"

namespace graftwright {

class Canvas;

void draw_header(Canvas& canvas, const Snapshot& snapshot);
void draw_foot(Canvas& canvas, const Snapshot& snapshot);  // the caution, always in view
void draw_console(Canvas& canvas, const Snapshot& snapshot);
// The buttons alone, where Snapshot::buttons says; for full-screen stages too.
void draw_buttons(Canvas& canvas, const Snapshot& snapshot);

}  // namespace graftwright
