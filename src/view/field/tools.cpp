// What the hands hold, seen from above: the plane aimed at, forceps, needle and its holder.
#include <algorithm>

#include "base/units.h"
#include "view/field/field_pen.h"

namespace graftwright {
namespace {

// Wire of a needle for 25 µm thread: about 0.14 mm (typical of the trade; from memory, not measured).
constexpr double kWire_mm = 0.14;
constexpr double kTaper_mm = 1.1;     // over which the tip sharpens
constexpr double kGrip_share = 0.68;  // of the arc behind the tip, where the holder grasps
// The needle is drawn as if its circle leant a little toward the hand, or it would be a mere line from above.
// What lies below the surface is drawn where it is.
constexpr double kLean = 0.42;

// Toward the hand, in the canvas: from below, needle hand to the right unless left-handed.
Point hand_direction(const Snapshot& snapshot, bool needle_hand) {
    const bool right = snapshot.layout.left_handed != needle_hand;
    return {right ? 0.60 : -0.60, 0.80};
}

struct SeenNeedle {
    std::vector<Point> at;      // canvas, from the tip back
    std::vector<double> width;  // px
    std::vector<bool> hidden;   // inside tissue
    Point grip, grip_along;
};

double donor_height(const SectionView& section, double x) {
    const std::vector<Point>& front = section.donor_front;
    for (std::size_t i = 0; i + 1 < front.size(); ++i)
        if (front[i].x <= x && x <= front[i + 1].x) {
            const double span = front[i + 1].x - front[i].x;
            return front[i].y + (front[i + 1].y - front[i].y) * (span > 1e-9 ? (x - front[i].x) / span : 0.0);
        }
    return x <= -section.tissue.gap_mm && front.empty() ? 0.0 : -1e9;
}

SeenNeedle seen_needle(const FieldPen& pen, const SectionView& section, const BitePlane& plane) {
    SeenNeedle seen;
    const Point along = unit(pen.px(plane.donor_edge), pen.px(on_plane(plane, 3.0)));
    Point lean{-along.y, along.x};
    const Point hand = hand_direction(pen.snapshot, true);
    if (lean.x * hand.x + lean.y * hand.y < 0.0) lean = {-lean.x, -lean.y};
    constexpr int kPoints = 64;
    for (int i = 0; i <= kPoints; ++i) {
        const double behind = section.needle.arc_mm * i / kPoints;
        const Point at = section.pose.at(section.needle, behind);
        const double front = at.x >= 0.0 ? 0.0 : donor_height(section, at.x);
        seen.at.push_back(plus(pen.px(on_plane(plane, at.x)), lean, pen.px(kLean * std::max(at.y, 0.0))));
        seen.width.push_back(pen.px(kWire_mm) * std::clamp(0.16 + behind / kTaper_mm, 0.16, 1.0));
        seen.hidden.push_back(at.y < front);
    }
    const auto grip = static_cast<std::size_t>(kGrip_share * kPoints);
    seen.grip = seen.at[grip];
    seen.grip_along = unit(seen.at[grip + 2], seen.at[grip - 2]);
    return seen;
}

void metal(const FieldPen& pen, const SeenNeedle& seen, std::size_t from, std::size_t to, bool hidden) {
    std::vector<StripPoint> edge, body, light;
    for (std::size_t i = from; i <= to; ++i) {
        const double width = seen.width[i];
        edge.push_back({seen.at[i], width + 2.4, faded(ink(0x0c1114), hidden ? 0.30 : 0.92)});
        body.push_back(
            {seen.at[i], width, faded(blended(palette::kSteelDark, palette::kSteel, 0.62), hidden ? 0.45 : 1.0)});
        light.push_back({plus(seen.at[i], {-0.14 * width, -0.20 * width}), 0.36 * width,
                         faded(ink(0xffffff), hidden ? 0.12 : 0.95)});
    }
    pen.canvas.strip(edge);
    pen.canvas.strip(body);
    pen.canvas.strip(light);
}

void shaft(const FieldPen& pen, Point tip, Point toward, double tip_px, double end_px, double from, double to) {
    const Point side{-toward.y, toward.x}, a = plus(tip, toward, from), b = plus(tip, toward, to);
    const Point outline[] = {plus(a, side, -tip_px), plus(b, side, -end_px), plus(b, side, end_px),
                             plus(a, side, tip_px)};
    pen.canvas.fill(outline, ink(0x10171b));
    const Point inner[] = {plus(a, side, -tip_px + 1.4), plus(b, side, -end_px + 1.6), plus(b, side, end_px - 1.6),
                           plus(a, side, tip_px - 1.4)};
    pen.canvas.fill(inner, palette::kJaw);
    pen.canvas.line(plus(a, side, -tip_px * 0.45), plus(b, side, -end_px * 0.45), 2.0, ink(0xdbe4e8, 0.65));
}

void cross(const FieldPen& pen, Point at, double reach, bool diagonal) {
    const double d = diagonal ? reach * 0.7071 : reach;
    const Point arms[4] = {diagonal ? Point{-d, -d} : Point{-d, 0}, diagonal ? Point{d, d} : Point{d, 0},
                           diagonal ? Point{-d, d} : Point{0, -d}, diagonal ? Point{d, -d} : Point{0, d}};
    for (int pass = 0; pass < 2; ++pass)
        for (int arm = 0; arm < 4; arm += 2)
            pen.canvas.line(plus(at, arms[arm]), plus(at, arms[arm + 1]), pass == 0 ? 4.4 : 2.0,
                            pass == 0 ? faded(palette::kRoom, 0.75) : palette::kBrass);
}

}  // namespace

Point plane_direction(const BitePlane& plane) { return polar(1.0, rad_from_deg(plane.direction_deg)); }

Point on_plane(const BitePlane& plane, double x_mm) { return plus(plane.host_edge, plane_direction(plane), x_mm); }

void draw_aim(const FieldPen& pen) {
    const Snapshot& s = pen.snapshot;
    if (!s.plane || s.stage >= Stage::tie) return;
    const bool aiming = s.stage == Stage::aim;
    const Point inner = pen.px(on_plane(*s.plane, -2.6)), outer = pen.px(on_plane(*s.plane, 1.9));
    pen.canvas.line(inner, outer, 3.0, faded(palette::kRoom, 0.45));
    pen.canvas.line(inner, outer, 1.2, faded(palette::kText, aiming ? 0.95 : 0.55));
    if (!aiming) return;
    cross(pen, pen.px(s.plane->entry), 8.0, true);
    // As far out on the rim as the entry is in on the donor: where the thread would come up.
    const Point exit = pen.px(on_plane(*s.plane, s.plane->entry_distance_mm));
    pen.canvas.circle(exit, 7.0, 4.0, faded(palette::kRoom, 0.75));
    pen.canvas.circle(exit, 7.0, 2.0, palette::kBrass);
    for (const Point& edge : {s.plane->donor_edge, s.plane->host_edge})
        pen.canvas.disc(pen.px(edge), 2.6, palette::kText);
}

void draw_forceps(const FieldPen& pen) {
    const Snapshot& s = pen.snapshot;
    if (!s.forceps) return;
    const Point tip = pen.px(s.forceps_at), toward = hand_direction(s, false), side{-toward.y, toward.x};
    pen.canvas.glow(plus(tip, {5.0, 8.0}), 26.0, ink(0x000000, 0.5));
    for (const double way : {-1.0, 1.0}) {
        // Each arm bows out from the tip and meets the other far back.
        std::vector<StripPoint> edge, body, light;
        for (int i = 0; i <= 28; ++i) {
            const double share = i / 28.0, back = 640.0 * share;
            const double bow = 3.0 + 17.0 * std::sin(kPi * std::min(1.0, share * 1.25 + 0.02));
            const Point at = plus(plus(tip, toward, back), side, way * bow);
            const double width = 4.5 + 20.0 * std::min(1.0, share * 2.2);
            edge.push_back({at, width + 2.4, ink(0x0e1518)});
            body.push_back({at, width, blended(palette::kJaw, ink(0x56636b), way > 0 ? 0.5 : 0.0)});
            light.push_back({plus(at, side, -0.25 * width), 0.16 * width + 0.6, ink(0xe9f1f4, 0.75)});
        }
        pen.canvas.strip(edge);
        pen.canvas.strip(body);
        pen.canvas.strip(light);
        // Its tooth bites inward.
        const Point root = plus(tip, side, way * 4.5);
        const Point tooth[] = {plus(root, toward, 4.0), plus(root, toward, -5.0),
                               plus(plus(tip, toward, -5.0), side, way * 0.6)};
        pen.canvas.fill(tooth, ink(0xdde6ea));
    }
}

void draw_needle(const FieldPen& pen) {
    const Snapshot& s = pen.snapshot;
    if (!s.section || !s.plane || s.stage >= Stage::tie) return;
    const SeenNeedle seen = seen_needle(pen, *s.section, *s.plane);
    const std::size_t last = seen.at.size() - 1;
    // Thread trails from the blunt end.
    std::vector<Point> tail;
    const Point out = unit(seen.at[last - 3], seen.at[last]);
    const Point hand = hand_direction(s, true);
    const Point middle = plus(seen.at[last], out, 80.0);
    // Toward the hand; of a run that is open, to where it left the tissue last.
    const bool open = !s.bites.empty() && s.bites.back().slack;
    const Point end = open ? pen.px(s.bites.back().exit) : plus(plus(middle, out, 40.0), hand, 190.0);
    for (int i = 0; i <= 30; ++i) {  // a quadratic curve: out of the needle, then down toward the hand
        const double u = i / 30.0, a = (1.0 - u) * (1.0 - u), b = 2.0 * u * (1.0 - u), c = u * u;
        const double sway = open ? 5.0 * u * (1.0 - u) : 5.0 * u;
        tail.push_back({a * seen.at[last].x + b * middle.x + c * end.x + sway * std::sin(9.0 * u),
                        a * seen.at[last].y + b * middle.y + c * end.y});
    }
    pen.canvas.polyline(tail, 4.0, ink(0xeef6f8, 0.22));
    pen.canvas.polyline(tail, 1.8, palette::kThread);
    // Its shadow on the eye, farther off the higher it stands.
    std::vector<StripPoint> shadow;
    for (std::size_t i = 0; i <= last; ++i)
        if (!seen.hidden[i]) shadow.push_back({plus(seen.at[i], {5.0, 9.0}), seen.width[i] + 4.0, ink(0x000000, 0.26)});
    pen.canvas.strip(shadow);
    for (std::size_t from = 0; from < last;) {
        std::size_t to = from + 1;
        while (to < last && seen.hidden[to] == seen.hidden[from]) ++to;
        metal(pen, seen, from, to, seen.hidden[from]);
        from = to;
    }
    const Point back{hand.x * 0.9, hand.y};
    pen.canvas.glow(plus(seen.grip, {8.0, 12.0}), 30.0, ink(0x000000, 0.5));
    const Point toward = unit({0, 0}, back), side{-toward.y, toward.x};
    shaft(pen, seen.grip, toward, 8.0, 22.0, -9.0, 900.0);
    // Two jaws: the slit between them, ribs that grip, and the box joint behind.
    pen.canvas.line(plus(seen.grip, toward, -8.0), plus(seen.grip, toward, 92.0), 1.6, ink(0x1a2227));
    for (int rib = 0; rib < 5; ++rib) {
        const Point at = plus(seen.grip, toward, 8.0 + 7.0 * rib);
        pen.canvas.line(plus(at, side, -6.0), plus(at, side, 6.0), 1.0, ink(0x2c363c, 0.55));
    }
    pen.canvas.disc(plus(seen.grip, toward, 104.0), 7.5, ink(0x2c363c));
    pen.canvas.disc(plus(seen.grip, toward, 104.0), 5.2, ink(0xaab5bb));
    pen.canvas.line(plus(seen.grip, seen.grip_along, -10.0), plus(seen.grip, seen.grip_along, 10.0), 1.6,
                    ink(0x232c31));
}

}  // namespace graftwright
