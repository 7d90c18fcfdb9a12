// Where a map reaches a level.
//
// Marching squares with straight edges between the map's places; a cell whose corners alternate is joined or parted by
// its mean. Error of a line's place: that of linear interpolation, h² f″/8.
#pragma once

#include <vector>

#include "base/point.h"
#include "figure/curvature_map.h"

namespace graftwright {

// Closed loops around the places at or above a level, mm, the last point not the first again. The map is taken as
// surrounded by "below every level", so that each loop closes; fill them by the even-odd rule, lowest level first, and
// hide what lies beyond the map's circle.
[[nodiscard]] std::vector<std::vector<Point>> loops_at_level(const CurvatureMap& map, double level_D);
// The same within the map's circle: lines from rim to rim, and loops whose last point is the first.
[[nodiscard]] std::vector<std::vector<Point>> lines_at_level(const CurvatureMap& map, double level_D);

}  // namespace graftwright
