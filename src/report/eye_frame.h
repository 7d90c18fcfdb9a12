// The face of the eye as the examiner sees it, for maps and rings: a circle of a few millimetres with its
// angles (0° at 3 o'clock, counter-clockwise) and where the nose is.
#pragma once

#include "files/scenario.h"
#include "report/svg.h"

namespace graftwright {

struct EyeFrame {
    CanvasPoint centre{172, 212};
    double radius_px = 138;
    double radius_mm = 2.5;

    [[nodiscard]] CanvasPoint at(double x_mm, double y_mm) const {
        return {centre.x + x_mm * radius_px / radius_mm, centre.y - y_mm * radius_px / radius_mm};
    }
    [[nodiscard]] double px(double mm) const { return mm * radius_px / radius_mm; }
};

// Ticks and angles around, nasal and temporal below, a millimetre to measure with.
void draw_eye_frame(SvgCanvas& canvas, const EyeFrame& frame, Side side);

}  // namespace graftwright
