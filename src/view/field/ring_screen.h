// The ring check: the reflected rings as large as the screen allows, to read ovality by eye.
#pragma once

#include "game/snapshot.h"

namespace graftwright {

class Canvas;

void draw_ring_check(Canvas& canvas, const Snapshot& snapshot);

}  // namespace graftwright
