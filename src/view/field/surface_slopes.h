// Slopes of the solved front beyond those of the sphere it was cut from: what relief and folds are drawn from.
#pragma once

#include "base/point.h"
#include "game/live_wound.h"

namespace graftwright {

// d(height)/dx (or y) of the map at a place of the field, minus the sphere's. Past the donor's edge, where the map
// knows nothing, what the edge does, dying out over half a millimetre of rim.
[[nodiscard]] double slope_beyond_sphere(const SurfaceMap& map, Point at, bool along_x, double radius_mm);

// The same along the radius, + rising outward.
[[nodiscard]] double radial_slope_beyond_sphere(const LiveWound& wound, Point at, double radius_mm);

}  // namespace graftwright
