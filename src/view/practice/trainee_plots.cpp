#include "view/practice/trainee_plots.h"

#include <algorithm>
#include <cmath>

#include "view/kit/plot_geometry.h"
#include "view/kit/words.h"

namespace graftwright {

AxisRange round_range(double low, double high, int most) {
    AxisRange range;
    const double span = std::max(high - low, 1e-6 * std::max({1.0, std::abs(low), std::abs(high)}));
    range.step = round_step(span, most);
    range.low = std::floor(low / range.step + 1e-9) * range.step;
    range.high = std::ceil(high / range.step - 1e-9) * range.step;
    if (range.high <= range.low) range.high = range.low + range.step;
    return range;
}

Point PlotArea::at(double x, double value) const {
    const double along = x_high > x_low ? (x - x_low) / (x_high - x_low) : 0.5;
    const double up = (std::clamp(value, y.low, y.high) - y.low) / (y.high - y.low);
    return {place.x + place.width * along, place.y + place.height * (1.0 - up)};
}

void draw_value_lines(const PlotPen& pen, const PlotArea& area, int decimals) {
    const int steps = static_cast<int>(std::lround((area.y.high - area.y.low) / area.y.step));
    for (int i = 0; i <= steps; ++i) {
        const double value = area.y.low + i * area.y.step;
        const Point left = area.at(area.x_low, value), right = area.at(area.x_high, value);
        pen.line({area.place.x, left.y}, {area.place.x + area.place.width, right.y}, ink(tone::line), 1.0);
        pen.words({area.place.x - 7.0, left.y}, words::number(value, decimals), Face::small, ink(tone::quiet),
                  WordsAt::right);
    }
}

void draw_cross(const PlotPen& pen, Point at, double half, ImU32 colour, double width) {
    pen.line({at.x - half, at.y - half}, {at.x + half, at.y + half}, colour, width);
    pen.line({at.x - half, at.y + half}, {at.x + half, at.y - half}, colour, width);
}

std::vector<std::size_t> thinned(std::size_t count, std::size_t most) {
    std::vector<std::size_t> indices;
    const std::size_t kept = std::min(count, most);
    for (std::size_t i = 0; i < kept; ++i) indices.push_back(kept > 1 ? i * (count - 1) / (kept - 1) : count - 1);
    return indices;
}

int decimals_of(double step) {
    int decimals = 0;
    for (double size = step; decimals < 4 && std::abs(size - std::round(size)) > 1e-6; size *= 10.0) ++decimals;
    return decimals;
}

std::string shown_value(const std::optional<double>& value, int decimals) {
    return value ? words::number(*value, decimals) : "–";
}

}  // namespace graftwright
