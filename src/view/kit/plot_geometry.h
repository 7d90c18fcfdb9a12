// Where things go in a plot, as plain geometry: nothing here draws.
//
// Canvas pixels, y down. Angles in degrees, counter-clockwise from 3 o'clock, as an examiner sees them.
#pragma once

#include "base/point.h"

namespace graftwright {

// Polar paper: `full` stands at `radius` pixels from the centre.
struct PolarFrame {
    Point centre;
    double radius = 1.0;
    double full = 1.0;

    [[nodiscard]] Point place(double deg, double value) const;
    // Plane x to the right, y upward, in the units of `full`.
    [[nodiscard]] Point place_xy(double x, double y) const;
};

// 1, 2 or 5 times a power of ten: the finest step that divides `full` into at most `most` parts.
[[nodiscard]] double round_step(double full, int most);

}  // namespace graftwright
