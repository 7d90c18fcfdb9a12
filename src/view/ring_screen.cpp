#include "view/ring_screen.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "view/canvas.h"
#include "view/console_view.h"
#include "view/words.h"

namespace graftwright {
namespace {

constexpr double kReach_mm = 3.0;  // rings go out to about 2.5

void draw_hours(Canvas& canvas, Point middle, double radius, const Layout& layout) {
    const double sense = layout.examiner_view ? 1.0 : -1.0;
    for (int hour = 1; hour <= 12; ++hour) {
        const double rad = rad_from_deg(90.0 - 30.0 * hour);
        const Point way{sense * std::cos(rad), -sense * std::sin(rad)};
        canvas.line({middle.x + radius * way.x, middle.y + radius * way.y},
                    {middle.x + (radius + 8.0) * way.x, middle.y + (radius + 8.0) * way.y}, 1.4, palette::kQuietText);
        canvas.text({middle.x + (radius + 22.0) * way.x, middle.y + (radius + 22.0) * way.y + 5.0}, std::to_string(hour), 15.0,
                    palette::kQuietText, Align::centre);
    }
}

void draw_numbers(Canvas& canvas, const Snapshot& s, const Rect& side) {
    double y = side.y + 150.0;
    const auto row = [&](std::string_view what, const std::string& value) {
        canvas.text({side.x + 14.0, y}, what, 15.0, palette::kQuietText);
        canvas.text({side.x + side.width - 14.0, y}, value, 16.0, palette::kText, Align::right, Weight::strong);
        y += 28.0;
    };
    const LiveWound& wound = *s.wound;
    row("Chamber filled to", words::number(wound.pressure_mmHg, 0) + " mmHg");
    if (!s.aid("numbers") || !wound.keratometry) return;
    const Keratometry& k = *wound.keratometry;
    row("Steep", words::number(k.steep_D, 2) + " D at " + words::number(k.steep_axis_deg, 0) + "°");
    row("Flat", words::number(k.flat_D, 2) + " D");
    row("Cylinder", words::number(k.cylinder_D, 2) + " D");
}

}  // namespace

void draw_ring_check(Canvas& canvas, const Snapshot& s) {
    const Rect field = s.layout.field(), section = s.layout.section(), console = s.layout.console();
    const Rect side{section.x, section.y, section.width, console.y + console.height - section.y};
    canvas.panel(field, 3.0, ink(0x05090b), palette::kPanelEdge);
    canvas.panel(side, 8.0, palette::kPanel, palette::kPanelEdge);
    canvas.paragraph({side.x + 14.0, side.y + 12.0, side.width - 28.0, 66.0}, s.prompt, 17.0, palette::kText, Weight::strong);
    const Point middle = field.centre();
    const double scale = 0.43 * field.width / kReach_mm, sense = s.layout.examiner_view ? scale : -scale;
    canvas.clip(field);
    draw_hours(canvas, middle, 0.43 * field.width, s.layout);
    if (s.wound && !s.wound->rings.empty()) {
        for (const std::vector<Point>& ring : s.wound->rings) {
            std::vector<Point> line;
            for (const Point& mm : ring) line.push_back({middle.x + sense * mm.x, middle.y - sense * mm.y});
            canvas.polyline(line, 7.0, faded(palette::kRing, s.wound->rigid ? 0.06 : 0.16), true);
            canvas.polyline(line, 3.0, faded(palette::kRing, s.wound->rigid ? 0.35 : 0.95), true);
        }
    }
    canvas.text({field.x + 14.0, field.y + 24.0}, s.layout.examiner_view ? "Examiner's view" : "Surgeon's view", kLeastText,
                palette::kQuietText);
    if (s.wound_is_old)
        canvas.text({field.x + field.width - 14.0, field.y + 24.0}, "Older picture, being renewed", kLeastText, palette::kBrass,
                    Align::right);
    canvas.unclip();
    if (s.wound && s.wound->rigid)
        canvas.paragraph({side.x + 14.0, side.y + 90.0, side.width - 28.0, 50.0},
                         "Fewer than three bites: these are the rings of the donor as it was cut.", 15.0, palette::kQuietText);
    else if (s.wound && !s.wound->converged)
        canvas.paragraph({side.x + 14.0, side.y + 90.0, side.width - 28.0, 50.0}, s.wound->reason + ".", 15.0, palette::kWarning);
    if (s.wound) draw_numbers(canvas, s, side);
    draw_buttons(canvas, s);
}

}  // namespace graftwright
