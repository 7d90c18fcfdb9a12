// What each bite costs, as arrows on the doubled angle; see plots.h.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/units.h"
#include "view/debrief/plots.h"
#include "view/kit/pen.h"

namespace graftwright {
namespace {

constexpr int kMostCircles = 5;
constexpr double kRoom = 26.0;        // pixels around the outermost circle, for the axes' names
constexpr double kLabelFrom_D = 0.5;  // smaller shares crowd around the middle and go without a number
constexpr double kDot = 4.5;

Point plus(Point a, Point b) { return {a.x + b.x, a.y + b.y}; }
double size(Point p) { return std::hypot(p.x, p.y); }

void draw_paper(const PlotPen& pen, const PolarFrame& frame, const DoubleAngle& data) {
    for (double ring = data.step_D; ring <= data.full_D + 1e-9; ring += data.step_D) {
        pen.circle(frame.centre, frame.radius * ring / data.full_D, ink(tone::line), 1.0);
    }
    for (int axis = 0; axis < 180; axis += 45) {
        const double direction = double_angle_direction_deg(axis);
        pen.line(frame.centre, frame.place(direction, data.full_D), ink(tone::line), 1.0);
        const double room = axis == 0 || axis == 90 ? 18.0 : 13.0;
        pen.words(frame.place(direction, data.full_D * (1.0 + room / frame.radius)), fmt::format("{}°", axis),
                  Face::small, ink(tone::quiet), WordsAt::middle);
    }
    for (double ring = data.step_D; ring <= data.full_D + 1e-9; ring += data.step_D) {
        // Between two axes, where no arrow is more likely than elsewhere.
        pen.words(frame.place(-22.5, ring), fmt::format("{:g}", ring), Face::small, ink(tone::quiet), WordsAt::middle,
                  true);
    }
}

}  // namespace

std::string cylinder_words(Point arrow) {
    const double axis = axis_in_half_turn_deg(deg_from_rad(std::atan2(arrow.y, arrow.x)) / 2.0);
    // 179.6 is 0, not 180.
    return fmt::format("{:.1f} D @ {:.0f}°", size(arrow), std::fmod(std::round(axis), 180.0));
}

std::optional<DoubleAngle> double_angle(const Scorecard& card) {
    if (!card.converged() || !card.ideal || !card.ideal->keratometry) return std::nullopt;
    DoubleAngle data;
    for (std::size_t b = 0; b < card.shares.size(); ++b) {
        if (!card.shares[b]) continue;
        const BiteShare& share = *card.shares[b];
        data.bites.push_back({b, double_angle_arrow(share.delta), share.share_D, share.share_axis_deg});
        data.sum = plus(data.sum, data.bites.back().tip);
    }
    if (data.bites.empty()) return std::nullopt;
    data.ideal = double_angle_arrow(card.ideal->keratometry->power);
    data.attempt = double_angle_arrow(card.attempt.keratometry->power);
    double largest = std::max({size(data.attempt), size(data.ideal), size(plus(data.ideal, data.sum)), 1.0});
    for (const DoubleAngle::Arrow& arrow : data.bites) largest = std::max(largest, size(arrow.tip));
    data.step_D = round_step(1.04 * largest, kMostCircles);
    data.full_D = raised_to(1.04 * largest, data.step_D);
    return data;
}

void draw_double_angle(const Ui& ui, const Rect& place, const DoubleAngle& data, std::optional<std::size_t> chosen) {
    const PlotPen pen(ui);
    const PolarFrame frame{{place.x + place.width / 2.0, place.y + place.height / 2.0},
                           std::min(place.width, place.height) / 2.0 - kRoom,
                           data.full_D};
    draw_paper(pen, frame, data);
    const auto at = [&](Point d) { return frame.place_xy(d.x, d.y); };

    // The whole: ideal, plus all shares, plus what no single bite explains, is the attempt.
    pen.dashes(at(data.ideal), at(plus(data.ideal, data.sum)), ink(tone::quiet), 1.6);
    pen.line(at(plus(data.ideal, data.sum)), at(data.attempt), ink(tone::warning), 1.6);

    const auto largest = std::max_element(data.bites.begin(), data.bites.end(),
                                          [](const auto& a, const auto& b) { return a.size_D < b.size_D; });
    std::vector<Point> labels;
    for (const DoubleAngle::Arrow& arrow : data.bites) {
        const bool marked =
            chosen ? arrow.bite == *chosen : arrow.bite == largest->bite && arrow.size_D >= kLabelFrom_D;
        pen.arrow(frame.centre, at(arrow.tip), marked ? ink(tone::warning) : ink(tone::accent, 0.9F),
                  marked ? 3.2 : 1.6, marked ? 12.0 : 7.0);
        if (!marked && arrow.size_D < kLabelFrom_D) continue;
        const double direction = deg_from_rad(std::atan2(arrow.tip.y, arrow.tip.x));
        const Point label = frame.place(direction, size(arrow.tip) + 13.0 * data.full_D / frame.radius);
        const bool crowded = std::any_of(labels.begin(), labels.end(), [&](Point other) {
            return std::hypot(other.x - label.x, other.y - label.y) < 17.0;
        });
        if (crowded && !marked) continue;
        labels.push_back(label);
        pen.words(label, fmt::format("{}", arrow.bite + 1), marked ? Face::strong : Face::small,
                  marked ? ink(tone::warning) : ink(tone::text), WordsAt::middle, true);
    }
    // Three marks told apart by shape: ring = ideal, square = all shares, disc = attempt.
    pen.disc(at(data.ideal), kDot + 1.0, ink(tone::panel));
    pen.circle(at(data.ideal), kDot, ink(tone::text), 1.8);
    const Point all = at(plus(data.ideal, data.sum));
    constexpr double kHalf = kDot + 2.5;  // the disc of the attempt often lies on it
    pen.box({all.x - kHalf, all.y - kHalf, 2.0 * kHalf, 2.0 * kHalf}, ink(tone::quiet), 1.5);
    pen.disc(at(data.attempt), kDot + 1.5, ink(tone::panel));
    pen.disc(at(data.attempt), kDot, ink(tone::text));
}

}  // namespace graftwright
