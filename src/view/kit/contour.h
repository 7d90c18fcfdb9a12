// Lines of equal value on a square map (marching squares), chained into polylines.
//
// Map as in game/live_wound.h. Between grid points values run linearly along the cells' edges; a saddle
// is decided by the mean of its corners. Cells with a corner that has no value carry no line.
#pragma once

#include <vector>

#include "game/live_wound.h"
#include "hand/needle.h"

namespace graftwright {

struct Contour {
    double level = 0.0;
    std::vector<Point> line;  // mm, x to the right, y upward
    bool closed = false;      // the last point is then the first
};

[[nodiscard]] std::vector<Contour> contours(const SurfaceMap& map, double level);

}  // namespace graftwright
