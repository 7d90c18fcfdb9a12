#include "view/field/ring_screen.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "base/units.h"
#include "view/field/console_view.h"
#include "view/kit/canvas.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

constexpr double kScreenReach_mm = 3.0;  // rings go out to about 2.5

void draw_hours(Canvas& canvas, Point middle, double radius, const Layout& layout) {
    const double sense = layout.examiner_view ? 1.0 : -1.0;
    for (int hour = 1; hour <= 12; ++hour) {
        const double rad = rad_from_deg(90.0 - 30.0 * hour);
        const Point way{sense * std::cos(rad), -sense * std::sin(rad)};
        canvas.line({middle.x + radius * way.x, middle.y + radius * way.y},
                    {middle.x + (radius + 8.0) * way.x, middle.y + (radius + 8.0) * way.y}, 1.4, palette::kQuietText);
        canvas.text({middle.x + (radius + 22.0) * way.x, middle.y + (radius + 22.0) * way.y + 5.0},
                    std::to_string(hour), 15.0, palette::kQuietText, Align::centre);
    }
}

double draw_numbers(Canvas& canvas, const Snapshot& s, const Rect& side) {
    double y = side.y + 150.0;
    const auto row = [&](std::string_view what, const std::string& value) {
        canvas.text({side.x + 14.0, y}, what, 15.0, palette::kQuietText);
        canvas.text({side.x + side.width - 14.0, y}, value, 16.0, palette::kText, Align::right, Weight::strong);
        y += 26.0;
    };
    const LiveWound& wound = *s.wound;
    row("Chamber filled to", words::number(wound.pressure_mmHg, 0) + " mmHg");
    if (!s.aid(Aid::numbers) || !wound.keratometry) return y;
    const Keratometry& k = *wound.keratometry;
    row("Steep", words::number(k.steep_D, 2) + " D at " + words::number(k.steep_axis_deg, 0) + "°");
    row("Flat", words::number(k.flat_D, 2) + " D");
    row("Cylinder", words::number(k.cylinder_D, 2) + " D");
    return y;
}

// What shapes mean, in three small drawings.
void draw_lesson(Canvas& canvas, const Rect& side, double y) {
    struct Example {
        double oval, corner;
        std::string_view name, meaning;
    };
    constexpr Example kExamples[] = {{0.0, 0.0, "Round", "even all the way round"},
                                     {0.20, 0.0, "Oval", "steep across the narrow way"},
                                     {0.05, 0.20, "Dented", "a bite pulls harder there"}};
    const double third = (side.width - 28.0) / 3.0;
    for (std::size_t i = 0; i < std::size(kExamples); ++i) {
        const Example& example = kExamples[i];
        const Point middle{side.x + 14.0 + third * (static_cast<double>(i) + 0.5), y + 44.0};
        for (const double radius : {14.0, 25.0, 36.0}) {
            std::vector<Point> ring;
            for (int k = 0; k < 64; ++k) {
                const double rad = 2.0 * kPi * k / 64.0, away = turn_between_rad(0.75 * kPi, rad);
                const double r = radius * (1.0 + example.oval * std::cos(2.0 * rad) * 0.8 -
                                           example.corner * std::exp(-away * away * 2.2) * (radius / 36.0));
                ring.push_back({middle.x + r * std::cos(rad), middle.y - r * std::sin(rad)});
            }
            canvas.polyline(ring, 1.8, faded(palette::kRing, 0.8), true);
        }
        canvas.text({middle.x, y + 108.0}, example.name, 15.0, palette::kText, Align::centre, Weight::strong);
        const double width = third - 12.0;
        canvas.paragraph({middle.x - width / 2.0, y + 114.0, width, 44.0}, example.meaning, kLeastText,
                         palette::kQuietText, Weight::regular, Align::centre);
    }
}

// Where threads lie, as ticks on the circle of the hours; the steep way across, where the level gives numbers.
void draw_bites(Canvas& canvas, const Snapshot& s, Point middle, double radius) {
    const double sense = s.layout.examiner_view ? 1.0 : -1.0;
    const auto at = [&](double deg, double r) {
        return Point{middle.x + sense * r * std::cos(rad_from_deg(deg)),
                     middle.y - sense * r * std::sin(rad_from_deg(deg))};
    };
    for (std::size_t i = 0; i < s.bites.size(); ++i) {
        if (s.bites[i].bite.removed) continue;
        const double deg = s.bites[i].bite.host_deg;
        canvas.line(at(deg, radius - 26.0), at(deg, radius - 2.0), 3.0,
                    faded(palette::kCalm, s.bites[i].holds() ? 0.9 : 0.35));
    }
    if (!s.aid(Aid::numbers) || !s.wound || !s.wound->keratometry || s.wound->rigid) return;
    const double axis = s.wound->keratometry->steep_axis_deg;
    for (const double way : {0.0, 180.0}) {
        const Point ends[] = {at(axis + way, 30.0), at(axis + way, radius - 34.0)};
        canvas.dashed(ends, 1.4, faded(palette::kBrass, 0.75), 8.0, 6.0);
    }
    const Point label = at(axis, radius - 34.0);
    canvas.panel({label.x - 25.0, label.y - 12.0, 50.0, 23.0}, 6.0, faded(palette::kRoom, 0.85),
                 faded(palette::kRoom, 0.0));
    canvas.text({label.x, label.y + 5.0}, "steep", kLeastText, palette::kBrass, Align::centre);
}

}  // namespace

void draw_ring_check(Canvas& canvas, const Snapshot& s) {
    const Rect field = s.layout.field(), section = s.layout.section(), console = s.layout.console();
    const Rect side{section.x, section.y, section.width, console.y + console.height - section.y};
    canvas.panel(field, 3.0, ink(0x05090b), palette::kPanelEdge);
    canvas.panel(side, 8.0, palette::kPanel, palette::kPanelEdge);
    canvas.paragraph({side.x + 14.0, side.y + 12.0, side.width - 28.0, 66.0}, s.prompt, 17.0, palette::kText,
                     Weight::strong);
    const Point middle = field.centre();
    const double scale = 0.43 * field.width / kScreenReach_mm, sense = s.layout.examiner_view ? scale : -scale;
    canvas.clip(field);
    // The cornea around the rings, hardly lit: limbus, iris and pupil are what the rings lie over.
    const double reach = 0.43 * field.width;
    canvas.glow(middle, reach * 1.12, ink(0x35505a, 0.55));
    canvas.circle(middle, reach, 1.4, faded(palette::kPanelEdge, 0.9));
    canvas.disc(middle, 0.24 * reach * 2.0, ink(0x020506, 0.85));
    draw_hours(canvas, middle, reach, s.layout);
    draw_bites(canvas, s, middle, reach);
    if (s.wound && !s.wound->rings.empty()) {
        for (const std::vector<Point>& ring : s.wound->rings) {
            std::vector<Point> line;
            for (const Point& mm : ring) line.push_back({middle.x + sense * mm.x, middle.y - sense * mm.y});
            canvas.polyline(line, 7.0, faded(palette::kRing, s.wound->rigid ? 0.06 : 0.16), true);
            canvas.polyline(line, 3.0, faded(palette::kRing, s.wound->rigid ? 0.35 : 0.95), true);
        }
    }
    canvas.text({field.x + 14.0, field.y + 24.0}, s.layout.examiner_view ? "Examiner's view" : "Surgeon's view",
                kLeastText, palette::kQuietText);
    if (s.wound_is_old)
        canvas.text({field.x + field.width - 14.0, field.y + 24.0}, "Older picture, being renewed", kLeastText,
                    palette::kBrass, Align::right);
    canvas.unclip();
    if (s.wound && s.wound->rigid)
        canvas.paragraph({side.x + 14.0, side.y + 90.0, side.width - 28.0, 50.0},
                         "Fewer than three bites: these are the rings of the donor as it was cut.", 15.0,
                         palette::kQuietText);
    else if (s.wound && !s.wound->converged)
        canvas.paragraph({side.x + 14.0, side.y + 90.0, side.width - 28.0, 50.0}, s.wound->reason + ".", 15.0,
                         palette::kWarning);
    const double below = s.wound ? draw_numbers(canvas, s, side) : side.y + 150.0;
    draw_lesson(canvas, side, below + 24.0);
    draw_buttons(canvas, s);
}

}  // namespace graftwright
