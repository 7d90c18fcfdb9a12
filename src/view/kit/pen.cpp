#include "view/kit/pen.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"

namespace graftwright {
namespace {

constexpr int kCircleSides = 96;  // fewer show as corners at 4K

}  // namespace

void PlotPen::line(Point from, Point to, ImU32 colour, double width) const {
    draw_.AddLine(on_window(from), on_window(to), colour, ui_.px(width));
}

void PlotPen::dashes(Point from, Point to, ImU32 colour, double width, double dash) const {
    const double length = distance(from, to);
    const auto at = [&](double along) {
        const double share = length > 0.0 ? along / length : 0.0;
        return Point{from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share};
    };
    for (double along = 0.0; along < length; along += 2.0 * dash)
        line(at(along), at(std::min(along + dash, length)), colour, width);
}

void PlotPen::way(const std::vector<Point>& points, ImU32 colour, double width, bool closed) const {
    draw_.PathClear();
    for (const Point& point : points) draw_.PathLineTo(on_window(point));
    draw_.PathStroke(colour, closed ? ImDrawFlags_Closed : ImDrawFlags_None, ui_.px(width));
}

void PlotPen::arrow(Point from, Point to, ImU32 colour, double width, double head) const {
    const double length = distance(from, to);
    if (length < 0.5) return;
    const double size = std::min(head, length), x = (to.x - from.x) / length, y = (to.y - from.y) / length;
    const Point neck{to.x - size * x, to.y - size * y};
    const double half = size * 0.42;
    line(from, neck, colour, width);
    draw_.AddTriangleFilled(on_window(to), on_window({neck.x - half * y, neck.y + half * x}),
                            on_window({neck.x + half * y, neck.y - half * x}), colour);
}

void PlotPen::circle(Point centre, double radius, ImU32 colour, double width) const {
    draw_.AddCircle(on_window(centre), ui_.px(radius), colour, kCircleSides, ui_.px(width));
}

void PlotPen::dashed_circle(Point centre, double radius, ImU32 colour, double width) const {
    const auto at = [&](double turn) {
        return Point{centre.x + radius * std::cos(turn), centre.y + radius * std::sin(turn)};
    };
    const double each = 2.0 * kPi / kCircleSides;
    for (int i = 0; i < kCircleSides; i += 2) line(at(i * each), at((i + 1) * each), colour, width);
}

void PlotPen::disc(Point centre, double radius, ImU32 colour) const {
    draw_.AddCircleFilled(on_window(centre), ui_.px(radius), colour, kCircleSides);
}

void PlotPen::box(const Rect& place, ImU32 colour, double rounding) const {
    draw_.AddRectFilled(on_window({place.x, place.y}), on_window({place.x + place.width, place.y + place.height}),
                        colour, ui_.px(rounding));
}

void PlotPen::quad(Point a, Point b, Point c, Point d, ImU32 colour) const {
    draw_.AddQuadFilled(on_window(a), on_window(b), on_window(c), on_window(d), colour);
}

void PlotPen::words(Point at, std::string_view text, Face face, ImU32 colour, WordsAt align, bool halo) const {
    ImFont* font = ui_.theme.font(face);
    const double width = ui_.text_width(text, face), height = ui_.line_height(face);
    const double left = align == WordsAt::left ? at.x : align == WordsAt::middle ? at.x - width / 2.0 : at.x - width;
    const Point corner{left, at.y - height / 2.0};
    if (halo) box({corner.x - 3.0, corner.y + 1.0, width + 6.0, height - 2.0}, ink(tone::panel, 0.78F), 4.0);
    const ImVec2 start = on_window(corner);
    // Whole pixels: letters stay sharp.
    draw_.AddText(font, font->FontSize, {std::round(start.x), std::round(start.y)}, colour, text.data(),
                  text.data() + text.size());
}

}  // namespace graftwright
