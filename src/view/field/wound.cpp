// The wound from above: what is open, the donor's ink, iris caught, streams in the stain.
#include <algorithm>

#include "base/units.h"
#include "view/field/field_pen.h"

namespace graftwright {
namespace {

constexpr int kAround = 180;       // points round the wound: one every 2°, under 0.3 px off a true circle
constexpr double kOpen_mm = 0.10;  // a gap as wide as this is as dark as it gets

void draw_lifted_lip(const FieldPen& pen) {
    if (pen.outline.lift() <= 0.01) return;
    // The lip's rolled edge catches light, and throws a shadow on the donor behind it.
    std::vector<StripPoint> light, shade;
    constexpr double kWide_rad = 0.55;
    for (int i = -20; i <= 20; ++i) {
        const double away = i / 20.0, rad = pen.outline.lift_rad() + away * kWide_rad;
        const double strength = std::pow(std::cos(away * kPi / 2.0), 2.0) * pen.outline.lift();
        const Point edge = pen.outline.donor_edge(rad);
        light.push_back({pen.px(plus(edge, polar(-0.05, rad))), 1.0 + 5.0 * strength, ink(0xf3fbff, 0.75 * strength)});
        shade.push_back({pen.px(plus(edge, polar(-0.34, rad))), 20.0 * strength, ink(0x05090b, 0.22 * strength)});
    }
    pen.canvas.strip(shade);
    pen.canvas.strip(light);
}

// A knuckle of iris where the wound stands widest near the work.
void draw_iris_caught(const FieldPen& pen) {
    if (!pen.snapshot.iris_in_wound) return;
    double widest = 0.0;
    for (int i = 0; i < kAround; ++i) {
        const double rad = 2.0 * kPi * i / kAround;
        if (pen.outline.gap_mm(rad) > pen.outline.gap_mm(widest) + 1e-6) widest = rad;
    }
    if (pen.snapshot.plane) widest = std::atan2(pen.snapshot.plane->host_edge.y, pen.snapshot.plane->host_edge.x);
    std::vector<StripPoint> body, folds, rim;
    for (int i = -12; i <= 12; ++i) {
        const double away = i / 12.0, rad = widest + away * 0.11;
        const double swell = std::sqrt(std::max(0.0, 1.0 - away * away));
        const Point at = pen.px(plus(pen.outline.host_edge(rad), polar(-0.03, rad)));
        rim.push_back({at, 24.0 * swell + 2.0, ink(0x1a0f08)});
        body.push_back({at, 20.0 * swell + 0.5, blended(palette::kIris, ink(0x2d2415), std::abs(away))});
        folds.push_back({pen.px(plus(pen.outline.host_edge(rad), polar(-0.03 + 0.05 * std::sin(i * 1.9), rad))), 1.6,
                         ink(0x2b2210, 0.9)});
    }
    pen.canvas.strip(rim);
    pen.canvas.strip(body);
    pen.canvas.strip(folds);
}

// One rivulet of aqueous: dye washed to a bright brim, dark threads of clear fluid within, fanning out and fading.
void draw_stream(const FieldPen& pen, double deg, double strength) {
    const double rad = rad_from_deg(deg), start = pen.outline.host_radius_mm(rad) - 0.04, length = 0.9 + 1.7 * strength;
    constexpr int kAlong = 44, kThreads = 4;
    // A rivulet winds, a little differently at every place of the wound.
    const auto spine = [&](double share, double across) {
        const double sway =
            0.13 * share * std::sin(4.3 * share + 2.1 * deg) + 0.05 * share * std::sin(11.0 * share + deg);
        return pen.px(plus(polar(start + length * share, rad), polar(sway + across, rad + kPi / 2.0)));
    };
    const auto half = [&](double share) { return (0.05 + 0.13 * strength) * (0.55 + 1.5 * std::pow(share, 0.8)); };
    std::vector<StripPoint> brim, body;
    std::vector<std::vector<StripPoint>> threads(kThreads);
    for (int i = 0; i <= kAlong; ++i) {
        const double share = static_cast<double>(i) / kAlong, fade = 1.0 - share * share;
        brim.push_back({spine(share, 0.0), pen.px(2.0 * half(share) + 0.10), ink(0xc9ff7a, 0.50 * fade)});
        body.push_back({spine(share, 0.0), pen.px(2.0 * half(share)), ink(0x0b2114, 0.62 * fade)});
        for (int k = 0; k < kThreads; ++k) {
            const double across = half(share) * (0.72 * std::sin(2.4 * k + 5.0 * share + deg) + 0.25 * (k - 1.5));
            threads[static_cast<std::size_t>(k)].push_back(
                {spine(share, across * 0.8), pen.px(half(share) * 0.42), ink(0x030a06, 0.60 * fade)});
        }
    }
    pen.canvas.strip(brim);
    pen.canvas.strip(body);
    for (const std::vector<StripPoint>& thread : threads) pen.canvas.strip(thread);
    pen.canvas.glow(spine(0.0, 0.0), pen.px(0.20 + 0.14 * strength), ink(0x020604, 0.95));
    pen.canvas.circle(spine(0.0, 0.0), pen.px(0.24 + 0.12 * strength), 1.6, ink(0xf2ffd0, 0.9));
    // An arrow down the stream: which way it runs, for every kind of sight.
    const Point foot = spine(0.42, 0.0), tip = spine(0.62, 0.0), along = unit(foot, tip), side{-along.y, along.x};
    const Point head[] = {plus(plus(tip, along, -7.0), side, 5.5), tip, plus(plus(tip, along, -7.0), side, -5.5)};
    pen.canvas.line(foot, tip, 1.8, ink(0xf2ffd0, 0.95));
    pen.canvas.polyline(head, 1.8, ink(0xf2ffd0, 0.95));
}

}  // namespace

void draw_wound(const FieldPen& pen) {
    std::vector<Point> host, donor;
    std::vector<StripPoint> shadow, donor_rim;
    for (int i = 0; i <= kAround; ++i) {
        const double rad = 2.0 * kPi * i / kAround;
        host.push_back(pen.px(pen.outline.host_edge(rad)));
        donor.push_back(pen.px(pen.outline.donor_edge(rad)));
        const double open = std::min(1.0, pen.outline.gap_mm(rad) / kOpen_mm);
        shadow.push_back({host.back(), 1.1 + 0.9 * open, faded(palette::kWound, 0.45 + 0.55 * open)});
        donor_rim.push_back({donor.back(), 1.6, ink(0xe9f6fa, 0.50 + 0.20 * open)});
    }
    pen.canvas.ribbon(host, donor, palette::kWound, faded(palette::kWound, 0.92));
    shadow.pop_back();
    donor_rim.pop_back();
    pen.canvas.strip(shadow, true);
    pen.canvas.strip(donor_rim, true);
    draw_lifted_lip(pen);
    draw_iris_caught(pen);
}

void draw_marks(const FieldPen& pen) {
    // A marker of eight blades for up to eight bites, of sixteen for more; 12 o'clock is doubled and dotted.
    const int marks = pen.snapshot.bites_asked > 8 ? 16 : 8;
    const DonorPose& donor = pen.snapshot.donor;
    for (int k = 0; k < marks; ++k) {
        const double own = 2.0 * kPi * k / marks;  // in the donor's frame; 12 o'clock at 90°
        const bool twelve = 4 * k == marks;
        const double rad = own + donor.turn;
        const double edge = distance(pen.outline.donor_edge(rad), {donor.x, donor.y});
        const double from = edge - (k % 2 == 0 || marks == 8 ? 0.95 : 0.70), to = edge - 0.08;
        const auto streak = [&](double shift_rad) {
            std::vector<StripPoint> points;
            for (int i = 0; i <= 6; ++i) {
                const double share = i / 6.0;
                const Point at = plus({donor.x, donor.y}, polar(from + (to - from) * share, rad + shift_rad));
                // Ink is thin at its inner end and runs a little at the edge.
                points.push_back(
                    {pen.px(at), pen.px(0.030 + 0.028 * share), faded(palette::kMark, 0.55 + 0.35 * share)});
            }
            pen.canvas.strip(points);
        };
        if (twelve) {
            streak(-0.020);
            streak(0.020);
            pen.canvas.disc(pen.px(plus({donor.x, donor.y}, polar(from - 0.16, rad))), pen.px(0.075),
                            faded(palette::kMark, 0.92));
        } else {
            streak(0.0);
        }
    }
}

void draw_streams(const FieldPen& pen) {
    if (!pen.snapshot.leak || !pen.snapshot.leak->stained) return;
    for (const LeakView::Stream& stream : pen.snapshot.leak->streams)
        if (stream.strength > 0.0) draw_stream(pen, stream.deg, std::clamp(stream.strength, 0.0, 1.0));
}

}  // namespace graftwright
