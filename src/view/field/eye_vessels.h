// The sclera's vessels: branching walks from the field's edge toward the limbus, always the same ones.
#pragma once

#include "base/point.h"
#include "view/kit/canvas.h"

namespace graftwright {

// Canvas in mm of the field (as begun by the caller, y down the picture: examiner's view).
void draw_vessels(Canvas& canvas, Point eye_centre, double limbus_mm);

}  // namespace graftwright
