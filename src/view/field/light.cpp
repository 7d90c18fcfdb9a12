// Light on the eye and help over it: reflected rings, lines of tension, the hours of the clock.
#include <algorithm>
#include <string>

#include "base/units.h"
#include "view/field/field_pen.h"

namespace graftwright {

void draw_rings(const FieldPen& pen) {
    const Snapshot& s = pen.snapshot;
    if (!s.wound || s.stage == Stage::debrief) return;
    if (s.leak && s.leak->stained) return;  // dye and blue light drown them
    const double strength = s.wound->rigid ? 0.34 : s.wound_is_old ? 0.62 : 0.95;
    pen.canvas.shine(true);
    for (const std::vector<Point>& ring : s.wound->rings) {
        if (ring.size() < 3) continue;
        std::vector<Point> points = pen.px(ring);
        if (s.wound->rigid) {
            points.push_back(points.front());
            pen.canvas.dashed(points, 2.0, faded(palette::kRing, strength), 9.0, 6.0);
        } else {
            pen.canvas.polyline(points, 7.0, faded(palette::kRing, 0.13 * strength), true);
            pen.canvas.polyline(points, 2.4, faded(palette::kRing, strength), true);
        }
    }
    pen.canvas.shine(false);
    if (!s.wound_is_old || s.wound->rings.empty()) return;
    // The mark of an older picture: a small clock beside the outmost ring.
    const Point at = plus(pen.px(s.wound->rings.back().front()), {16.0, -16.0});
    pen.canvas.disc(at, 9.0, faded(palette::kRoom, 0.85));
    pen.canvas.circle(at, 8.0, 1.6, palette::kBrass);
    pen.canvas.line(at, plus(at, {0.0, -5.0}), 1.6, palette::kBrass);
    pen.canvas.line(at, plus(at, {3.6, 1.6}), 1.6, palette::kBrass);
}

// Between neighbouring bites the tissue is drawn straight: after four even cardinals a square, a kite if one
// is off. A pair of which one is loose draws no line.
void draw_tension_lines(const FieldPen& pen) {
    std::vector<const LaidBite*> holding;
    for (const LaidBite& laid : pen.snapshot.bites)
        if (laid.holds() && laid.tension_mN > kLoose_mN) holding.push_back(&laid);
    // Two bites alone: only while the trainee looks whether as much donor lies on both sides of their line.
    if (holding.size() < (pen.snapshot.stage == Stage::look ? 2U : 3U)) return;
    std::sort(holding.begin(), holding.end(), [](const LaidBite* a, const LaidBite* b) {
        return std::atan2(a->donor_edge.y, a->donor_edge.x) < std::atan2(b->donor_edge.y, b->donor_edge.x);
    });
    constexpr double kStrong_mN = 25.0;  // drawn at full strength
    for (std::size_t i = 0; i < holding.size(); ++i) {
        const LaidBite &a = *holding[i], &b = *holding[(i + 1) % holding.size()];
        const double pull = std::min(1.0, std::min(a.tension_mN, b.tension_mN) / kStrong_mN);
        const Point ends[] = {pen.px(a.donor_edge), pen.px(b.donor_edge)};
        pen.canvas.dashed(ends, 1.3, ink(0xe6f2f4, 0.16 + 0.34 * pull), 12.0, 5.0);
    }
}

void draw_clock_hours(const FieldPen& pen) {
    constexpr double kDegreesPerHour = 30.0, kTicksFrom_mm = 6.02, kTicksTo_mm = 6.12, kNumbers_mm = 6.33;
    for (int hour = 1; hour <= 12; ++hour) {
        const double rad = rad_from_deg(90.0 - kDegreesPerHour * hour);
        const bool quarter = hour % 3 == 0;
        const Point at = pen.px(polar(kNumbers_mm, rad));
        pen.canvas.line(pen.px(polar(kTicksFrom_mm, rad)), pen.px(polar(kTicksTo_mm, rad)), 2.0, ink(0x2a2320, 0.8));
        pen.canvas.disc(at, quarter ? 13.0 : 11.5, faded(palette::kRoom, quarter ? 0.86 : 0.62));
        pen.canvas.text(plus(at, {0.0, 5.0}), std::to_string(hour), quarter ? 15.0 : kLeastText,
                        quarter ? palette::kText : palette::kQuietText, Align::centre,
                        quarter ? Weight::strong : Weight::regular);
    }
}

}  // namespace graftwright
