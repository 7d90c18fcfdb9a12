// Progress: each number of the score over the attempts, small and side by side.
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/words.h"
#include "view/practice/trainee_plots.h"
#include "view/practice/trainee_screen.h"

namespace graftwright {
namespace {

constexpr std::size_t kColumns = 4;
constexpr double kBetween = 8.0, kLegend = 26.0;
constexpr std::size_t kMostPoints = 220;  // more would be closer than a pixel
constexpr std::size_t kMostMarks = 60;    // dots for single attempts; beyond, the line alone is clearer
constexpr double kTallest = 300.0;

// How a number is written here: parts of a whole in percent, points from zero on.
struct Shown {
    double scale = 1.0;
    int decimals = 0;
    std::string unit;
    bool from_zero = false;
};
Shown shown_as(const MetricInfo& info) {
    if (info.unit == Unit::of_thickness || info.unit == Unit::of_its_mean)
        return {100.0, std::max(0, info.decimals - 2), "%", false};
    return {1.0, info.decimals, name_of(info.unit), info.unit == Unit::points || info.unit == Unit::of_100};
}

std::optional<double> scaled(std::optional<double> value, double scale) {
    if (value) *value *= scale;
    return value;
}

bool has_values(const MetricCurve& curve) {
    return std::any_of(curve.values.begin(), curve.values.end(), [](const auto& value) { return value.has_value(); });
}

std::optional<double> limit_of(const PassMarks* marks, Metric metric) {
    if (marks == nullptr) return std::nullopt;
    switch (metric) {
        case Metric::cylinder_D:
            return marks->cylinder_D;
        case Metric::flattening_D:
            return marks->flattening_D;
        case Metric::leak_pressure_mmHg:
            return marks->leak_pressure_mmHg;
        case Metric::hoa_rms_um:
            return marks->hoa_rms_um;
        case Metric::max_step_um:
            return marks->step_um;
        default:
            return std::nullopt;
    }
}

// The axis holds all values and the limit, and never magnifies what is a small difference anyway.
AxisRange range_of(const MetricCurve& curve, const Shown& shown, const std::optional<double>& limit) {
    if (curve.info->metric == Metric::total) return {0.0, 100.0, 50.0};
    double low = INFINITY, high = -INFINITY;
    for (const std::optional<double>& value : curve.values) {
        if (!value) continue;
        low = std::min(low, *value);
        high = std::max(high, *value);
    }
    low *= shown.scale;
    high *= shown.scale;
    if (limit) {
        low = std::min(low, *limit);
        high = std::max(high, *limit);
    }
    if (shown.from_zero) low = 0.0;
    const double least = std::max(shown.decimals > 0 ? 50.0 * std::pow(10.0, -shown.decimals) : 10.0,
                                  0.05 * std::max(std::abs(low), std::abs(high)));
    if (high - low < least) {
        const bool above_zero = low >= 0.0;
        const double middle = (low + high) / 2.0;
        low = above_zero ? std::max(0.0, middle - least / 2.0) : middle - least / 2.0;
        high = low + least;
    }
    return round_range(low, high, 2);
}

const char* arrow_of(Better better) { return better == Better::higher ? " ↑" : better == Better::lower ? " ↓" : ""; }

// The median of the latest attempts, and of those before, as bars over the attempts they are taken from.
void draw_levels(const PlotPen& pen, const PlotArea& area, const MetricCurve& curve, double scale, std::size_t of) {
    const std::size_t count = curve.values.size();
    const auto bar = [&](const std::optional<double>& level, std::size_t from, std::size_t to, ImU32 colour) {
        if (!level || to <= from) return;
        Point a = area.at(static_cast<double>(from), scale * *level);
        Point b = area.at(static_cast<double>(to - 1), scale * *level);
        if (b.x - a.x < 8.0) {
            a.x -= 4.0;
            b.x += 4.0;
        }
        pen.line(a, b, colour, 3.0);
    };
    const std::size_t latest = count - std::min(count, of), before = latest - std::min(latest, of);
    bar(curve.level_before, before, latest, ink(tone::quiet, 0.8F));
    bar(curve.level, latest, count, ink(tone::accent));
}

void draw_course(const PlotPen& pen, const PlotArea& area, const MetricCurve& curve, double scale,
                 const std::vector<AttemptPoint>& attempts) {
    std::vector<Point> line;
    std::vector<std::pair<Point, bool>> marks;
    for (const std::size_t i : thinned(curve.values.size(), kMostPoints)) {
        if (!curve.values[i]) continue;
        line.push_back(area.at(static_cast<double>(i), scale * *curve.values[i]));
        marks.emplace_back(line.back(), attempts[i].passed);
    }
    if (line.size() > 1) pen.way(line, ink(tone::text, marks.size() > kMostMarks ? 0.75F : 0.4F), 1.2);
    if (marks.size() > kMostMarks) return;
    for (const auto& [point, passed] : marks) {
        if (passed) {
            pen.disc(point, 3.2, ink(tone::text));
        } else {
            pen.disc(point, 3.2, ink(tone::panel));
            pen.circle(point, 3.0, ink(tone::text, 0.9F), 1.3);
        }
    }
}

void draw_metric(Ui& ui, const Rect& cell, const TraineePage& page, const MetricCurve& curve, const PassMarks* marks) {
    const MetricInfo& info = *curve.info;
    const Shown shown = shown_as(info);
    const std::string name = std::string("metric ") + info.column;
    ui.begin_panel(name.c_str(), cell, tone::panel, 0.0, false);
    const PlotPen pen(ui);
    const double right = cell.x + cell.width - 12.0;
    pen.words({cell.x + 12.0, cell.y + 16.0}, info.name, Face::strong, ink(tone::text));
    pen.words({right, cell.y + 16.0}, shown.unit + arrow_of(info.better), Face::small, ink(tone::quiet),
              WordsAt::right);
    const double low = cell.y + cell.height - 15.0;
    const std::optional<double> limit = limit_of(marks, info.metric);
    const double last = static_cast<double>(curve.values.size()) - 1.0;
    const PlotArea area{{cell.x + 56.0, cell.y + 38.0, cell.width - 76.0, cell.height - 76.0},
                        0.0,
                        last,
                        range_of(curve, shown, limit)};
    draw_value_lines(pen, area, decimals_of(area.y.step));
    if (limit)
        pen.dashes({area.place.x, area.at(0.0, *limit).y}, {area.place.x + area.place.width, area.at(0.0, *limit).y},
                   ink(tone::warning), 1.6);
    draw_course(pen, area, curve, shown.scale, page.attempts);
    draw_levels(pen, area, curve, shown.scale, page.options.level_attempts);

    const auto value = [&](const std::optional<double>& of) {
        return shown_value(scaled(of, shown.scale), shown.decimals);
    };
    std::string now = "now " + value(curve.level);
    if (curve.level_before) now += " (was " + value(curve.level_before) + ")";
    pen.words({cell.x + 12.0, low}, now, Face::small, ink(tone::accent));
    if (curve.best) pen.words({right, low}, "best " + value(curve.best), Face::small, ink(tone::text), WordsAt::right);
    ui.end_panel();
}

void draw_legend(const PlotPen& pen, const Ui& ui, const Rect& place, const TraineePage& page, bool limits) {
    double x = place.x + 4.0;
    const double y = place.y + place.height - 9.0;
    const auto say = [&](const std::string& words) {
        pen.words({x, y}, words, Face::small, ink(tone::quiet));
        x += ui.text_width(words, Face::small) + 16.0;
    };
    pen.disc({x + 4.0, y}, 3.2, ink(tone::text));
    x += 13.0;
    say("passed");
    pen.circle({x + 4.0, y}, 3.0, ink(tone::text), 1.3);
    x += 13.0;
    say("not passed");
    pen.line({x, y}, {x + 18.0, y}, ink(tone::accent), 3.0);
    x += 24.0;
    say(fmt::format("now: median of the latest {}; was: of the {} before", page.options.level_attempts,
                    page.options.level_attempts));
    say("↑ more is better, ↓ less");
    if (limits) {
        pen.dashes({x, y}, {x + 18.0, y}, ink(tone::warning), 1.6);
        x += 24.0;
        say("the level's limit");
    } else if (page.options.scenario.empty() && page.levels.size() > 1) {
        say("levels are mixed here");
    }
}

}  // namespace

void draw_progress(Ui& ui, const Rect& place, const TraineePage& page, const PassMarks* marks) {
    std::vector<const MetricCurve*> curves;  // a drill has fewer than a closure
    for (const MetricCurve& curve : page.metrics)
        if (has_values(curve)) curves.push_back(&curve);
    const std::size_t rows = std::max<std::size_t>(1, (curves.size() + kColumns - 1) / kColumns);
    const double width = (place.width - (kColumns - 1.0) * kBetween) / kColumns;
    const double height = std::min(kTallest, (place.height - kLegend) / static_cast<double>(rows) - kBetween);
    for (std::size_t i = 0; i < curves.size(); ++i) {
        const Rect cell{place.x + static_cast<double>(i % kColumns) * (width + kBetween),
                        place.y + static_cast<double>(i / kColumns) * (height + kBetween), width, height};
        draw_metric(ui, cell, page, *curves[i], marks);
    }
    const double below = place.y + static_cast<double>(rows) * (height + kBetween) + 16.0;
    if (curves.size() < page.metrics.size() && below < place.y + place.height - kLegend - 20.0)
        PlotPen(ui).words({place.x + 4.0, below},
                          "Whole closures bring more: score, cylinder, leak pressure, steps and gapes.", Face::body,
                          ink(tone::quiet));
    draw_legend(PlotPen(ui), ui, place, page, marks != nullptr);
}

}  // namespace graftwright
