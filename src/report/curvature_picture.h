// Curvature maps: axial or tangential power over the middle of the donor, in steps of one dioptre.
//
// Values: optics/maps.h on the front that the keratometer read. Shown out to 2.5 mm from the pupil's centre,
// less where bites enter the donor nearby: axial power stays 0.4 mm clear of them, tangential power, a second
// derivative, 0.75 mm. Over the entries curvature is of the thread's own size and has no optical meaning. Bands are
// filled contours of a 65 × 65 table, every line labelled or countable from a labelled neighbour; colours say nothing
// that the lines do not.
#pragma once

#include "report/case.h"
#include "report/picture.h"

namespace graftwright {

enum class Curvature { axial, tangential };

// Radius (mm) of the maps of a kind, the same for attempt and ideal.
[[nodiscard]] double map_radius_mm(const Case& what, Curvature kind);

[[nodiscard]] Picture curvature_picture(const Case& what, Whose whose, Curvature kind);

}  // namespace graftwright
