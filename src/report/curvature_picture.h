// Curvature maps: axial or tangential power over the middle of the donor, in steps of one dioptre.
//
// Bands are filled contours of figure/curvature_map.h, every line labelled or countable from a labelled neighbour;
// colours say nothing that the lines do not.
#pragma once

#include "figure/curvature_map.h"
#include "report/case.h"
#include "report/picture.h"

namespace graftwright {

[[nodiscard]] Picture curvature_picture(const Case& what, Whose whose, Curvature kind);

}  // namespace graftwright
