// The wall in section: layers, lamellae, chamber and iris.
#include <algorithm>

#include "base/units.h"
#include "view/field/section_pen.h"

namespace graftwright {
namespace {

// Layers of the wall, µm (textbook means, from memory): epithelium 50, Bowman's layer 12, Descemet's
// membrane and endothelium together 15 at the back.
constexpr double kEpithelium_mm = 0.050, kBowman_mm = 0.062, kDescemet_mm = 0.015, kEndothelium_mm = 0.006;
constexpr int kLamellae = 9;

void draw_iris(const SectionPen& pen, const Rect& place, double y) {
    const double bottom = place.y + place.height;
    if (y >= bottom) return;
    std::vector<Point> top, floor;
    std::vector<StripPoint> border;
    constexpr int kAcross = 60;
    for (int i = 0; i <= kAcross; ++i) {
        const double x = place.x + place.width * i / kAcross;
        // Crypts and furrows: a fixed unevenness of a few µm.
        top.push_back({x, y + 2.5 * std::sin(i * 0.9) + 1.5 * std::sin(i * 2.3 + 1.0)});
        floor.push_back({x, bottom + 4.0});
        border.push_back({top.back(), 3.0, ink(0xa39a6c)});
    }
    pen.canvas.ribbon(top, floor, palette::kIris, ink(0x2a2617));
    pen.canvas.strip(border);
    if (y < bottom - 22.0)
        pen.canvas.text({place.x + 12.0, std::min(y + 22.0, bottom - 8.0)}, "iris", kLeastText, palette::kText);
}

}  // namespace

std::vector<Point> Wall::at_depth(double mm) const {
    const double share = mm / thickness_mm;
    std::vector<Point> line;
    line.reserve(front.size());
    for (std::size_t i = 0; i < std::min(front.size(), back.size()); ++i)
        line.push_back({front[i].x + share * (back[i].x - front[i].x), front[i].y + share * (back[i].y - front[i].y)});
    return line;
}

Wall flat_wall(const FlatWall& shape) {
    Wall wall;
    wall.thickness_mm = shape.thickness_mm;
    wall.donor = shape.donor;
    constexpr int kPoints = 24;
    for (int i = 0; i <= kPoints; ++i) {
        const double share = static_cast<double>(i) / kPoints;
        wall.front.push_back({shape.front_from + share * (shape.front_to - shape.front_from), shape.top_mm});
        wall.back.push_back(
            {shape.back_from + share * (shape.back_to - shape.back_from), shape.top_mm - shape.thickness_mm});
    }
    return wall;
}

void draw_wall(const SectionPen& pen, const Wall& wall) {
    if (wall.front.size() < 2 || wall.front.size() != wall.back.size()) return;
    const auto band = [&](double from, double to, Ink one, Ink other) {
        pen.canvas.ribbon(pen.px(wall.at_depth(from)), pen.px(wall.at_depth(to)), one, other);
    };
    const Ink tissue = wall.donor ? palette::kDonorTissue : palette::kHostTissue;
    band(0.0, wall.thickness_mm, blended(tissue, palette::kRoom, 0.10), blended(tissue, palette::kRoom, 0.34));
    band(0.0, kEpithelium_mm, blended(tissue, ink(0xffffff), 0.45), blended(tissue, ink(0xffffff), 0.28));
    for (int i = 1; i <= kLamellae; ++i) {
        const double depth = kBowman_mm + (wall.thickness_mm - kDescemet_mm - kBowman_mm) * i / (kLamellae + 1.0);
        pen.canvas.polyline(pen.px(wall.at_depth(depth)), 1.0, faded(palette::kRoom, i % 2 == 0 ? 0.16 : 0.10));
    }
    pen.canvas.polyline(pen.px(wall.at_depth(kBowman_mm)), 1.6, faded(palette::kText, 0.55));
    // The limit: no needle may pass it.
    pen.canvas.dashed(pen.px(wall.at_depth(wall.thickness_mm - kDescemet_mm)), 1.8, palette::kRoom, 7.0, 4.0);
    band(wall.thickness_mm - kEndothelium_mm, wall.thickness_mm, ink(0x7a4f6c), ink(0x7a4f6c));
    pen.canvas.polyline(pen.px(wall.front), 1.6, faded(palette::kText, 0.9));
    const std::size_t face = wall.donor ? wall.front.size() - 1 : 0;
    pen.canvas.line(pen.px(wall.front[face]), pen.px(wall.back[face]), 2.0, palette::kWound);
}

void draw_chamber(const SectionPen& pen, double thickness_mm) {
    const Rect place = pen.snapshot.layout.section();
    const double bottom = place.y + place.height;
    // Viscoelastic stands in the wound up to just under the front, and sinks as it is lost.
    constexpr double kFullBelowFront_mm = 0.03, kSinks_mm = 0.45;
    const bool water = pen.snapshot.leak && pen.snapshot.leak->saline;
    const double filled = water ? 1.0 : std::clamp(pen.snapshot.viscoelastic, 0.0, 1.0);
    const double level = pen.px({0.0, -kFullBelowFront_mm - kSinks_mm * (1.0 - filled)}).y;
    const Point sides[] = {{place.x, level}, {place.x + place.width, level}};
    const Point floor[] = {{place.x, bottom}, {place.x + place.width, bottom}};
    pen.canvas.ribbon(sides, floor, blended(palette::kChamber, palette::kCalm, 0.10), palette::kChamber);
    pen.canvas.line(sides[0], sides[1], 1.2, faded(palette::kCalm, 0.55));
    // Iris: below the picture under a deep chamber.
    draw_iris(pen, place, pen.px({0.0, -thickness_mm - 0.10 - 1.2 * filled}).y);
}

void draw_tab(const SectionPen& pen, Point at, std::string_view words, Ink colour, Align align) {
    const double width = pen.canvas.text_width(words, kLeastText) + 14.0;
    const double x = align == Align::left ? at.x : align == Align::right ? at.x - width : at.x - width / 2.0;
    pen.canvas.panel({x, at.y - 17.0, width, 23.0}, 6.0, faded(palette::kRoom, 0.8), faded(palette::kPanelEdge, 0.4));
    pen.canvas.text({x + 7.0, at.y}, words, kLeastText, colour);
}

}  // namespace graftwright
