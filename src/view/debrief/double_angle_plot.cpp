// What each bite costs, as arrows on the doubled angle; see plots.h.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/point.h"
#include "base/units.h"
#include "view/debrief/plots.h"
#include "view/kit/pen.h"

namespace graftwright {
namespace {

constexpr double kRoom = 26.0;        // pixels around the outermost circle, for the axes' names
constexpr double kLabelFrom_D = 0.5;  // smaller shares crowd around the middle and go without a number
constexpr double kDot = 4.5;

void draw_paper(const PlotPen& pen, const PolarFrame& frame, const DoubleAngle& data) {
    for (int ring = 1; ring <= DoubleAngle::kRings; ++ring)
        pen.circle(frame.centre, frame.radius * ring / DoubleAngle::kRings, ink(tone::line), 1.0);
    for (const int axis_deg : DoubleAngle::kAxes_deg) {
        const double direction = 2.0 * axis_deg;
        pen.line(frame.centre, frame.place(direction, data.full_D), ink(tone::line), 1.0);
        const double room = axis_deg == 0 || axis_deg == 90 ? 18.0 : 13.0;
        pen.words(frame.place(direction, data.full_D * (1.0 + room / frame.radius)), fmt::format("{}°", axis_deg),
                  Face::small, ink(tone::quiet), WordsAt::middle);
    }
    for (int ring = 1; ring <= DoubleAngle::kRings; ++ring) {
        // Between two axes, where no arrow is more likely than elsewhere.
        pen.words(frame.place(-22.5, ring * data.step_D), fmt::format("{:g}", ring * data.step_D), Face::small,
                  ink(tone::quiet), WordsAt::middle, true);
    }
}

}  // namespace

void draw_double_angle(const Ui& ui, const Rect& place, const DoubleAngle& data, std::optional<std::size_t> chosen) {
    const PlotPen pen(ui);
    const PolarFrame frame{{place.x + place.width / 2.0, place.y + place.height / 2.0},
                           std::min(place.width, place.height) / 2.0 - kRoom,
                           data.full_D};
    draw_paper(pen, frame, data);
    const auto at = [&](Point d) { return frame.place_xy(d.x, d.y); };

    // The whole: ideal, plus all shares, plus what no single bite explains, is the attempt.
    const Point all = at(plus(*data.ideal, data.sum));
    pen.dashes(at(*data.ideal), all, ink(tone::quiet), 1.6);
    pen.line(all, at(data.attempt), ink(tone::warning), 1.6);

    const DoubleAngle::Arrow& largest = data.arrows.front();
    std::vector<Point> labels;
    for (const DoubleAngle::Arrow& arrow : data.arrows) {
        const bool marked = chosen ? arrow.bite == *chosen : arrow.bite == largest.bite && arrow.size_D >= kLabelFrom_D;
        pen.arrow(frame.centre, at(arrow.tip), marked ? ink(tone::warning) : ink(tone::accent, 0.9F),
                  marked ? 3.2 : 1.6, marked ? 12.0 : 7.0);
        if (!marked && arrow.size_D < kLabelFrom_D) continue;
        const double direction = deg_from_rad(std::atan2(arrow.tip.y, arrow.tip.x));
        const Point label = frame.place(direction, arrow.size_D + 13.0 * data.full_D / frame.radius);
        const bool crowded = std::any_of(labels.begin(), labels.end(), [&](Point other) {
            return std::hypot(other.x - label.x, other.y - label.y) < 17.0;
        });
        if (crowded && !marked) continue;
        labels.push_back(label);
        pen.words(label, fmt::format("{}", arrow.bite + 1), marked ? Face::strong : Face::small,
                  marked ? ink(tone::warning) : ink(tone::text), WordsAt::middle, true);
    }
    // Three marks told apart by shape: ring = ideal, square = all shares, disc = attempt.
    pen.disc(at(*data.ideal), kDot + 1.0, ink(tone::panel));
    pen.circle(at(*data.ideal), kDot, ink(tone::text), 1.8);
    constexpr double kHalf = kDot + 2.5;  // the disc of the attempt often lies on it
    pen.box({all.x - kHalf, all.y - kHalf, 2.0 * kHalf, 2.0 * kHalf}, ink(tone::quiet), 1.5);
    pen.disc(at(data.attempt), kDot + 1.5, ink(tone::panel));
    pen.disc(at(data.attempt), kDot, ink(tone::text));
}

}  // namespace graftwright
