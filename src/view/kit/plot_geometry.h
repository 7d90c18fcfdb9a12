// Where things go in a plot, as plain geometry: nothing here draws.
//
// Canvas pixels, y down. Angles in degrees, counter-clockwise from 3 o'clock, as an examiner sees them.
#pragma once

#include <string>
#include <vector>

#include "files/attempt.h"
#include "hand/needle.h"
#include "optics/power_vector.h"

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

// A power vector as an arrow on the double-angle plot: length the cylinder (D), direction twice the
// steep axis; x = C cos 2a = 2 J0, y = C sin 2a = 2 J45.
[[nodiscard]] Point double_angle_arrow(const PowerVector& power);
// Direction (deg) on that plot at which a steep axis is written.
[[nodiscard]] double double_angle_direction_deg(double steep_axis_deg);

// 1, 2 or 5 times a power of ten: the finest step that divides `full` into at most `most` parts.
[[nodiscard]] double round_step(double full, int most);
// `value` raised to the next multiple of a step.
[[nodiscard]] double raised_to(double value, double step);

// Angle (deg, [0, 360)) of a full hour.
[[nodiscard]] double hour_deg(int hour);

// The way of a bite's needle in its flattened section, mm: x outward, 0 at the wound; y up, 0 at the
// front. From the entry on the donor (x < 0) to the exit on the host.
[[nodiscard]] std::vector<Point> bite_section(const BitePath& bite);

// Closed circle as a line of points, the last one the first again; empty input stays empty.
[[nodiscard]] std::vector<Point> closed(std::vector<Point> line);

}  // namespace graftwright
