// What the wound did to the eye, one panel each: reflected rings, leak clock, bite shares, trade-off.
//
// Every number comes from the scorecard or, for the rings, from optics/ring_reflection.h on the front that
// the keratometer read. The attempt is drawn dark, full and solid, the ideal twin lighter, hollow or dashed.
#pragma once

#include "report/case.h"
#include "report/picture.h"

namespace graftwright {

// The standard instrument's rings; a ring is broken where the surface mirrors no light to the camera.
[[nodiscard]] Picture rings_picture(const Case& what, Whose whose);
// Sealing pressure around the wound at the scenario's pressure, against what is asked for, and where it
// opens first. The radius grows with the square root of the pressure, so that low ones can be read.
[[nodiscard]] Picture leak_picture(const Case& what);
// Shares of the bites as vectors on the doubled angle: length = dioptres, direction = twice the steep axis.
[[nodiscard]] Picture shares_picture(const Case& what);
// Mean power against leak pressure: attempt, ideal twin and simulated experts.
[[nodiscard]] Picture trade_off_picture(const Case& what);

}  // namespace graftwright
