// Threads that lie in the eye, their knots, and the ends in the hand.
#include <algorithm>
#include <string>

#include "base/units.h"
#include "view/field/field_pen.h"

namespace graftwright {
namespace {

constexpr double kThread_px = 2.0;  // 25 µm are 1.4 px; a hair more, to be seen over a dark iris
constexpr double kKnot_mm = 0.085;

// A strand on the wet surface: a pale meniscus to each side, black monofilament, a thin shine.
void strand(const FieldPen& pen, const std::vector<Point>& points, double strength = 1.0) {
    pen.canvas.polyline(points, kThread_px + 3.4, ink(0xeef6f8, 0.24 * strength));
    pen.canvas.polyline(points, kThread_px, faded(palette::kThread, strength));
    std::vector<Point> lit;
    for (const Point& point : points) lit.push_back(plus(point, {-0.5, -0.6}));
    pen.canvas.polyline(lit, 0.6, faded(palette::kThreadShine, 0.75 * strength));
}

std::vector<Point> straight(Point from, Point to) { return {from, to}; }

// A loose thread lies in waves, wider than its way is long.
std::vector<Point> wavy(Point from, Point to, double swing) {
    std::vector<Point> points;
    const Point along = unit(from, to), side{-along.y, along.x};
    const double length = distance(from, to);
    constexpr int kPoints = 28;
    for (int i = 0; i <= kPoints; ++i) {
        const double share = static_cast<double>(i) / kPoints;
        const double sway = swing * std::sin(kPi * share) * std::sin(2.6 * kPi * share + 0.4);
        points.push_back(plus(plus(from, along, length * share), side, sway));
    }
    return points;
}

// A length of running thread: drawn from about kTaut_mN on it lies straight, with less it bows outward.
std::vector<Point> bowed(const FieldPen& pen, Point from, Point to, double tension_mN) {
    constexpr double kTaut_mN = 4.0, kMostBow = 0.10;  // of its length; both for the picture only
    const double bow = kMostBow * distance(from, to) * std::clamp(1.0 - tension_mN / kTaut_mN, 0.0, 1.0);
    if (bow < 0.5) return straight(from, to);
    const Point along = unit(from, to), centre = pen.px(Point{});
    Point side{-along.y, along.x};
    if (side.x * (from.x - centre.x) + side.y * (from.y - centre.y) < 0.0) side = {-side.x, -side.y};
    std::vector<Point> points;
    constexpr int kPoints = 24;
    for (int i = 0; i <= kPoints; ++i) {
        const double share = static_cast<double>(i) / kPoints;
        // Fuller toward the host, where it left the tissue, than where it dips in again.
        points.push_back(
            plus(plus(from, along, distance(from, to) * share), side, bow * std::sin(kPi * std::pow(share, 0.75))));
    }
    return points;
}

// In the tissue: out of focus and pale, from the entry on the donor to the exit on the host.
void deep_strand(const FieldPen& pen, Point from, Point to) {
    const Point ends[] = {from, to};
    pen.canvas.polyline(ends, kThread_px + 2.6, ink(0x10141c, 0.16));
    pen.canvas.polyline(ends, kThread_px - 0.4, ink(0x10141c, 0.36));
}

void puncture(const FieldPen& pen, Point at) {
    pen.canvas.disc(at, 3.4, ink(0xf2f7f8, 0.30));
    pen.canvas.disc(at, 2.1, ink(0x120c0c, 0.95));
}

void knot_on_surface(const FieldPen& pen, Point at, Point along) {
    const double r = pen.px(kKnot_mm) * 0.62;
    const Point side{-along.y, along.x};
    pen.canvas.disc(plus(at, {1.2, 1.8}), r * 1.5, ink(0x000000, 0.30));
    for (const double shift : {-0.75, 0.75}) pen.canvas.disc(plus(at, along, shift * r), r, palette::kThread);
    pen.canvas.disc(plus(at, side, 0.35 * r), r * 0.95, palette::kThread);
    pen.canvas.disc(plus(at, {-1.2, -1.5}), r * 0.36, faded(palette::kThreadShine, 0.9));
}

// Under the surface: out of focus, without shine.
void knot_buried(const FieldPen& pen, Point at) {
    pen.canvas.glow(at, pen.px(kKnot_mm) * 1.5, ink(0x10141c, 0.75));
    pen.canvas.disc(at, pen.px(kKnot_mm) * 0.5, ink(0x10141c, 0.55));
}

// Brackets to both sides and its number: the selected bite, without a word of colour.
void selection(const FieldPen& pen, const LaidBite& laid, std::size_t number) {
    const Point from = pen.px(laid.entry), to = pen.px(laid.exit), along = unit(from, to), side{-along.y, along.x};
    for (const double away : {-13.0, 13.0}) {
        const double fold = away > 0 ? -5.0 : 5.0;
        const Point bracket[] = {plus(plus(from, along, -7.0), side, away + fold),
                                 plus(plus(from, along, -7.0), side, away), plus(plus(to, along, 7.0), side, away),
                                 plus(plus(to, along, 7.0), side, away + fold)};
        pen.canvas.polyline(bracket, 4.0, faded(palette::kRoom, 0.7));
        pen.canvas.polyline(bracket, 2.0, palette::kBrass);
    }
    const Point label = plus(plus(to, along, 8.0), side, 30.0);  // beside: along it a plane may be aimed
    pen.canvas.disc(label, 12.0, faded(palette::kRoom, 0.86));
    pen.canvas.circle(label, 12.0, 1.6, palette::kBrass);
    pen.canvas.text(plus(label, {0.0, 5.0}), std::to_string(number + 1), kLeastText, palette::kText, Align::centre,
                    Weight::strong);
}

bool knot_in_hand(const Snapshot& s, std::size_t bite) {
    return (s.stage == Stage::tie || s.stage == Stage::bury) && bite + 1 == s.bites.size() && !s.bites[bite].run;
}

// The run whose ends are in the hand closes over the wound, half way along its last span.
const LaidSpan* span_in_hand(const Snapshot& s) {
    const auto found =
        std::find_if(s.spans.begin(), s.spans.end(), [](const LaidSpan& span) { return span.knot && span.in_hand; });
    return found == s.spans.end() ? nullptr : &*found;
}

Point middle(Point a, Point b) { return {0.5 * (a.x + b.x), 0.5 * (a.y + b.y)}; }

void draw_run_bite(const FieldPen& pen, const LaidBite& laid) {
    const Point from = pen.px(laid.entry), to = pen.px(laid.exit);
    deep_strand(pen, from, to);
    puncture(pen, from);
    puncture(pen, to);
}

void draw_span(const FieldPen& pen, const LaidSpan& span) {
    const Snapshot& s = pen.snapshot;
    const LaidBite &last = s.bites[span.from], &next = s.bites[span.to];
    const Point from = pen.px(last.exit), to = pen.px(next.entry);
    strand(pen, bowed(pen, from, to, span.slack ? 0.0 : span.tension_mN));
    if (!span.knot) return;
    if (span.in_hand) {
        if (s.stage == Stage::bury || (s.tie && !s.tie->throws.empty()))
            knot_on_surface(pen, middle(from, to), unit(from, to));
    } else if (span.buried_in_host) {
        knot_buried(pen, plus(from, unit(from, pen.px(last.entry)), pen.px(0.14)));
    } else {
        knot_buried(pen, plus(to, unit(to, pen.px(next.exit)), pen.px(0.14)));
    }
}

// The two ends of an open run: the short one lies on the donor behind the first bite, the one that leads to the needle
// on the host beyond the last.
void draw_open_ends(const FieldPen& pen) {
    const std::vector<LaidBite>& bites = pen.snapshot.bites;
    const auto first = std::find_if(bites.begin(), bites.end(), [](const LaidBite& laid) { return laid.slack; });
    if (first == bites.end()) return;
    constexpr double kShort_mm = 0.9, kLong_mm = 1.3;
    const auto turned = [](Point from, Point to, double rad) {
        const double way = std::atan2(to.y - from.y, to.x - from.x) + rad;
        return Point{std::cos(way), std::sin(way)};
    };
    const LaidBite& last = bites.back();
    strand(pen, wavy(pen.px(first->entry),
                     pen.px(plus(first->entry, turned(first->exit, first->entry, 0.7), kShort_mm)), 7.0));
    if (pen.snapshot.section) return;  // the needle is at work on it
    strand(pen, wavy(pen.px(last.exit), pen.px(plus(last.exit, turned(last.entry, last.exit, 0.5), kLong_mm)), 8.0));
}

}  // namespace

void draw_threads(const FieldPen& pen) {
    const Snapshot& s = pen.snapshot;
    for (std::size_t i = 0; i < s.bites.size(); ++i) {
        const LaidBite& laid = s.bites[i];
        if (laid.bite.removed) continue;
        if (laid.run) {
            draw_run_bite(pen, laid);
            continue;
        }
        const Point from = pen.px(laid.entry), to = pen.px(laid.exit);
        puncture(pen, from);
        puncture(pen, to);
        const bool slack = laid.loose || (knot_in_hand(s, i) && s.stage == Stage::tie && s.tie && s.tie->loop_mN < 0.5);
        strand(pen, slack ? wavy(from, to, 9.0) : straight(from, to));
        if (knot_in_hand(s, i)) {
            if (s.stage == Stage::bury || (s.tie && !s.tie->throws.empty()))
                knot_on_surface(pen, pen.px(laid.donor_edge), unit(from, to));
        } else {
            const Point end = laid.buried_in_host ? to : from, inward = laid.buried_in_host ? from : to;
            knot_buried(pen, plus(end, unit(end, inward), pen.px(0.14)));
        }
    }
    for (const LaidSpan& span : s.spans) draw_span(pen, span);
    draw_open_ends(pen);
    const bool choosing = s.stage == Stage::aim || s.stage == Stage::look;
    if (choosing && s.selected && *s.selected < s.bites.size()) selection(pen, s.bites[*s.selected], *s.selected);
}

// While tying: two ends from the knot to the instruments, straight when they pull.
void draw_thread_in_hand(const FieldPen& pen) {
    const Snapshot& s = pen.snapshot;
    if (s.stage != Stage::tie || !s.tie || s.bites.empty() || s.tie->broken) return;
    const LaidBite& laid = s.bites.back();
    Point knot = pen.px(laid.donor_edge), along = unit(pen.px(laid.entry), pen.px(laid.exit));
    if (const LaidSpan* span = span_in_hand(s)) {
        const Point from = pen.px(s.bites[span->from].exit), to = pen.px(s.bites[span->to].entry);
        knot = middle(from, to);
        along = unit(to, from);
    }
    const Point side{-along.y, along.x};
    const double pull = std::min(1.0, s.tie->hand_mN / 20.0);
    for (const double way : {-1.0, 1.0}) {
        const Point end = plus(plus(knot, side, way * 190.0), along, way * 24.0);
        strand(pen, pull > 0.05 ? straight(knot, end) : wavy(knot, end, 20.0));
        // The jaws that hold the end.
        const Point out = unit(knot, end), across{-out.y, out.x};
        const Point jaw[] = {plus(end, across, -3.0), plus(plus(end, out, 150.0), across, -10.0),
                             plus(plus(end, out, 150.0), across, 10.0), plus(end, across, 3.0)};
        pen.canvas.fill(jaw, palette::kJaw);
        pen.canvas.line(end, plus(end, out, 150.0), 1.5, ink(0x2c363c));
        pen.canvas.line(plus(end, across, -2.0), plus(plus(end, out, 150.0), across, -8.0), 1.4, ink(0xd7e0e4, 0.7));
    }
}

}  // namespace graftwright
