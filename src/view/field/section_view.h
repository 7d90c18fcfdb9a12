// The tissue cut along the bite's plane, true to scale both ways: donor left, rim right, wound in between.
//
// Layers as fractions of the wall; the needle is the rigid arc that the hand turns. Depth in numbers only
// where the level's aids show it. Draws a snapshot, computes nothing that the game would not know.
#pragma once

#include "game/snapshot.h"

namespace graftwright {

class Canvas;

void draw_section(Canvas& canvas, const Snapshot& snapshot);

}  // namespace graftwright
