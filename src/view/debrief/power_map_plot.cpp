// The curvature map and the mirrored rings; see plots.h.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

#include <fmt/format.h>

#include "figure/contours.h"
#include "view/debrief/plots.h"
#include "view/kit/pen.h"

namespace graftwright {
namespace {

constexpr unsigned kMapPixels = 640;     // sharp up to 2560 × 1440, smooth beyond
constexpr double kScaleRoom = 58.0;      // to the right of the map
constexpr double kRimRoom = 24.0;        // for the degrees around it
constexpr double kLeastDrawn = 18.0;     // pixels: specks about the vertex, where meridians disagree
constexpr double kLeastLabelled = 46.0;  // pixels: shorter contour lines go without a label
constexpr double kBetweenLabels = 52.0;  // pixels
constexpr double kScaleBetween = 20.0;   // pixels between two figures of the scale

PolarFrame round_frame(const Rect& place, double room_right, double full) {
    const double width = place.width - room_right;
    const double radius = std::min(width, place.height) / 2.0 - kRimRoom;
    return {{place.x + width / 2.0, place.y + place.height / 2.0}, radius, full};
}

// Meridians around a map of the eye, and which side the nose is on.
void draw_meridians(const PlotPen& pen, const PolarFrame& frame, Side eye) {
    for (int deg = 0; deg < 360; deg += 30) {
        pen.line(frame.place(deg, frame.full), frame.place(deg, frame.full * (1.0 + 5.0 / frame.radius)),
                 ink(tone::quiet, 0.8F), 1.2);
    }
    const double out = frame.full * (1.0 + 14.0 / frame.radius);
    pen.words(frame.place(90.0, out), "90°", Face::small, ink(tone::quiet), WordsAt::middle);
    pen.words(frame.place(270.0, out), "270°", Face::small, ink(tone::quiet), WordsAt::middle);
    const bool nose_right = eye == Side::right;  // as one faces a right eye
    const Point right = frame.place(0.0, frame.full), left = frame.place(180.0, frame.full);
    pen.words({right.x - 4.0, frame.centre.y + frame.radius * 0.93}, nose_right ? "nasal" : "temporal", Face::small,
              ink(tone::quiet), WordsAt::middle);
    pen.words({left.x + 4.0, frame.centre.y + frame.radius * 0.93}, nose_right ? "temporal" : "nasal", Face::small,
              ink(tone::quiet), WordsAt::middle);
}

// Where on a line a label is farthest from those that stand already.
Point place_for_label(const std::vector<Point>& line, const std::vector<Point>& labels) {
    Point best = line.front();
    double room = -1.0;
    for (const Point& point : line) {
        double nearest = std::numeric_limits<double>::max();
        for (const Point& label : labels) nearest = std::min(nearest, distance(point, label));
        if (nearest > room) {
            room = nearest;
            best = point;
        }
    }
    return best;
}

}  // namespace

sf::Image power_image(const CurvatureMap& map, const PowerScale& scale, unsigned pixels) {
    sf::Image image;
    image.create(pixels, pixels, sf::Color::Transparent);
    const double mm_per_px = 2.0 * map.radius_mm / pixels;
    for (unsigned row = 0; row < pixels; ++row) {
        for (unsigned column = 0; column < pixels; ++column) {
            const Point mm{(column + 0.5) * mm_per_px - map.radius_mm, map.radius_mm - (row + 0.5) * mm_per_px};
            const double inside_px = (map.radius_mm - std::hypot(mm.x, mm.y)) / mm_per_px;
            if (inside_px <= 0.0) continue;
            const Rgb colour = scale_colour(scale.share(map.between(mm)));
            image.setPixel(
                column, row,
                {colour.r, colour.g, colour.b, static_cast<sf::Uint8>(255.0 * std::min(1.0, inside_px / 1.5))});
        }
    }
    return image;
}

PowerMapPlot::PowerMapPlot(const CurvatureMap& map, const PowerScale& scale)
    : scale_(scale), radius_mm_(map.radius_mm) {
    texture_.loadFromImage(power_image(map, scale, kMapPixels));
    texture_.setSmooth(true);
    for (double level = scale.low_D; level <= scale.high_D + 1e-9; level += scale.step_D)
        levels_.push_back({level, lines_at_level(map, level)});
}

void PowerMapPlot::draw(const Ui& ui, const Rect& place, const std::optional<Keratometry>& reading, Side eye) const {
    const PlotPen pen(ui);
    const PolarFrame frame = round_frame(place, kScaleRoom, radius_mm_);
    const auto handle = static_cast<std::uintptr_t>(texture_.getNativeHandle());
    pen.list().AddImage(reinterpret_cast<ImTextureID>(handle),
                        ui.at(frame.centre.x - frame.radius, frame.centre.y - frame.radius),
                        ui.at(frame.centre.x + frame.radius, frame.centre.y + frame.radius));
    draw_contours(ui, frame);
    // The ring that the keratometer reads, and where it found the steep meridian.
    pen.dashed_circle(frame.centre, frame.radius * kKeratometerRingDiameterMm / 2.0 / radius_mm_, ink(tone::text), 1.4);
    if (reading) {
        const double axis = reading->steep_axis_deg;
        pen.line(frame.place(axis, radius_mm_), frame.place(axis + 180.0, radius_mm_), ink(tone::background), 3.4);
        pen.line(frame.place(axis, radius_mm_), frame.place(axis + 180.0, radius_mm_), ink(tone::text), 1.6);
    }
    draw_meridians(pen, frame, eye);
    draw_scale(ui, place);
}

void PowerMapPlot::draw_contours(const Ui& ui, const PolarFrame& frame) const {
    const PlotPen pen(ui);
    std::vector<Point> labels{frame.centre};
    for (const Level& level : levels_) {
        const bool dark = scale_.share(level.power_D) < 0.5;
        for (const std::vector<Point>& line_mm : level.lines) {
            std::vector<Point> line;
            double length = 0.0;
            for (const Point& mm : line_mm) {
                line.push_back(frame.place_xy(mm.x, mm.y));
                if (line.size() > 1) length += distance(line[line.size() - 2], line.back());
            }
            if (length < kLeastDrawn) continue;
            pen.way(line, dark ? ink(tone::text, 0.55F) : ink(tone::background, 0.6F), 1.0);
            if (length < kLeastLabelled) continue;
            std::vector<Point> inside;  // a label must not hang over the edge
            for (const Point& point : line)
                if (distance(point, frame.centre) < frame.radius - 14.0) inside.push_back(point);
            if (inside.empty()) continue;
            const Point at = place_for_label(inside, labels);
            const bool crowded = std::any_of(labels.begin(), labels.end(),
                                             [&](const Point& other) { return distance(at, other) < kBetweenLabels; });
            if (crowded) continue;
            labels.push_back(at);
            pen.words(at, fmt::format("{:.0f}", level.power_D), Face::small, ink(tone::text), WordsAt::middle, true);
        }
    }
}

void PowerMapPlot::draw_scale(const Ui& ui, const Rect& place) const {
    const PlotPen pen(ui);
    constexpr int kBands = 64;
    const Rect bar{place.x + place.width - 44.0, place.y + 30.0, 12.0, place.height - 50.0};
    for (int i = 0; i < kBands; ++i) {
        const Rgb colour = scale_colour((i + 0.5) / kBands);
        const double top = bar.y + bar.height * (kBands - 1 - i) / kBands;
        pen.box({bar.x, top, bar.width, bar.height / kBands + 0.5}, ink(Tone{colour.r, colour.g, colour.b}));
    }
    const double steps = (scale_.high_D - scale_.low_D) / scale_.step_D;
    const int every = std::max(1, static_cast<int>(std::ceil(kScaleBetween * steps / bar.height)));
    for (int i = 0; i <= static_cast<int>(std::lround(steps)); ++i) {
        const double y = bar.y + bar.height * (1.0 - i / steps);
        pen.line({bar.x + bar.width, y}, {bar.x + bar.width + 4.0, y}, ink(tone::quiet), 1.0);
        if (i % every != 0) continue;
        pen.words({bar.x + bar.width + 8.0, y}, fmt::format("{:.0f}", scale_.low_D + scale_.step_D * i), Face::small,
                  ink(tone::text));
    }
    pen.words({bar.x + bar.width / 2.0 + 8.0, place.y + 10.0}, "D", Face::small, ink(tone::quiet), WordsAt::middle);
}

void draw_rings(const Ui& ui, const Rect& place, const LiveWound& wound) {
    const PlotPen pen(ui);
    double reach = 0.5;  // mm; shown a little larger than the outermost ring
    for (const auto& ring : wound.rings)
        for (const Point& point : ring) reach = std::max(reach, 1.12 * norm(point));
    const PolarFrame frame = round_frame(place, 0.0, reach);
    pen.disc(frame.centre, frame.radius, ink(tone::background));
    for (const auto& ring : wound.rings) {
        std::vector<Point> line;
        for (const Point& mm : ring) line.push_back(frame.place_xy(mm.x, mm.y));
        pen.way(line, ink(tone::text, wound.rigid ? 0.4F : 0.95F), 1.8, true);
    }
    if (wound.keratometry) {
        const double axis = wound.keratometry->steep_axis_deg;
        for (const double side : {axis, axis + 180.0}) {
            pen.dashes(frame.place(side, reach * 0.86), frame.place(side, reach), ink(tone::accent), 2.0);
        }
    }
    const double out = reach * (1.0 + 13.0 / frame.radius);
    pen.words(frame.place(90.0, out), "90°", Face::small, ink(tone::quiet), WordsAt::middle);
    pen.words(frame.place(270.0, out), "270°", Face::small, ink(tone::quiet), WordsAt::middle);
}

}  // namespace graftwright
