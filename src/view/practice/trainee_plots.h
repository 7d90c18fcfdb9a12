// A small plot with two axes, for the pages of a trainee's practice. Geometry and what all of them draw.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/point.h"
#include "base/rect.h"
#include "view/kit/pen.h"

namespace graftwright {

struct AxisRange {
    double low = 0.0, high = 1.0, step = 1.0;
};
// From what there is to what must show, widened to round ends with at most `most` steps between.
[[nodiscard]] AxisRange round_range(double low, double high, int most);

// Values to places in a rectangle of the canvas; x to the right, y upward.
struct PlotArea {
    Rect place;
    double x_low = 0.0, x_high = 1.0;
    AxisRange y;
    [[nodiscard]] Point at(double x, double value) const;
};

// Lines at the steps with their numbers to the left.
void draw_value_lines(const PlotPen& pen, const PlotArea& area, int decimals);
// A small cross: told from discs and rings without colour.
void draw_cross(const PlotPen& pen, Point at, double half, ImU32 colour, double width = 1.8);
// Indices of at most so many of `count` points, evenly taken, first and last among them.
[[nodiscard]] std::vector<std::size_t> thinned(std::size_t count, std::size_t most);
// Digits behind the point that a step needs.
[[nodiscard]] int decimals_of(double step);
// With a true minus sign, or a dash where there is no number.
[[nodiscard]] std::string shown_value(const std::optional<double>& value, int decimals);

}  // namespace graftwright
