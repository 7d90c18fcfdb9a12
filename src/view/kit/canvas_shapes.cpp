// Strips, discs and panels of the canvas, as soft-edged triangles in device pixels.
#include <cmath>

#include "base/units.h"
#include "view/kit/board.h"

namespace graftwright {
namespace {

constexpr double kFeather = 1.2;        // device pixels over which an edge fades (gui.md)
constexpr double kSharpestMitre = 2.0;  // a corner's point reaches no further than this many half widths

Point towards(Point from, Point to) {
    const Point d{to.x - from.x, to.y - from.y};
    const double length = norm(d);
    return length > 1e-9 ? Point{d.x / length, d.y / length} : Point{0.0, 0.0};
}
Point offset(Point at, Point along, double by) { return {at.x + along.x * by, at.y + along.y * by}; }

int corners_of_circle(double radius_px) { return std::clamp(static_cast<int>(radius_px * 1.6) + 12, 16, 128); }

// Across a strip at one of its points: soft edge, core, core, soft edge.
struct Across {
    Point outer_left, left, right, outer_right;
    Ink ink;
    double alpha = 1.0;
};

Across across(Point at, Point normal, double mitre, double width, Ink colour) {
    const double half = width / 2.0;
    const double core = std::max(half - kFeather / 2.0, 0.0);
    const double outer = core > 0.0 ? half + kFeather / 2.0 : kFeather;
    // Thinner than the feather: as much light as the width asks for.
    const double alpha = core > 0.0 ? 1.0 : std::min(1.0, 2.0 * half / kFeather);
    return {offset(at, normal, -outer * mitre),
            offset(at, normal, -core * mitre),
            offset(at, normal, core * mitre),
            offset(at, normal, outer * mitre),
            colour,
            alpha};
}

}  // namespace

std::vector<Point> arc_points(Point centre, double radius, double from_rad, double to_rad, int count) {
    std::vector<Point> points(static_cast<std::size_t>(std::max(count, 2)));
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double angle =
            from_rad + (to_rad - from_rad) * static_cast<double>(i) / static_cast<double>(points.size() - 1);
        points[i] = {centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle)};
    }
    return points;
}

void Canvas::device_strip(const std::vector<StripPoint>& points, bool closed) {
    const std::size_t n = points.size();
    if (n < 2) return;
    std::vector<Across> cuts;
    cuts.reserve(n + 3);
    for (std::size_t i = 0; i < n; ++i) {
        const bool first = i == 0 && !closed, last = i + 1 == n && !closed;
        const Point before = first ? points[i].at : points[(i + n - 1) % n].at;
        const Point after = last ? points[i].at : points[(i + 1) % n].at;
        const Point in = towards(before, points[i].at), out = towards(points[i].at, after);
        Point along = towards({0, 0}, {in.x + out.x, in.y + out.y});
        if (norm(along) < 0.5) along = norm(out) > 0.5 ? out : in;
        const Point reference = first ? out : in;
        const double cosine = std::max(along.x * reference.x + along.y * reference.y, 1.0 / kSharpestMitre);
        const Point normal{-along.y, along.x};
        const Across cut = across(points[i].at, normal, 1.0 / cosine, points[i].width, points[i].ink);
        if (first || last) {  // a soft end
            Across end = across(offset(points[i].at, along, first ? -kFeather / 2 : kFeather / 2), normal, 1.0,
                                points[i].width, faded(points[i].ink, 0.0));
            if (first) cuts.push_back(end);
            cuts.push_back(cut);
            if (last) cuts.push_back(end);
        } else {
            cuts.push_back(cut);
        }
    }
    if (closed) cuts.push_back(cuts.front());
    Board& board = *board_;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
        const Across &a = cuts[i], &b = cuts[i + 1];
        const auto quad = [&](Point a0, Point a1, Point b0, Point b1, double f0, double f1) {
            board.vertex(a0, a.ink, a.alpha * f0);
            board.vertex(a1, a.ink, a.alpha * f1);
            board.vertex(b0, b.ink, b.alpha * f0);
            board.vertex(b0, b.ink, b.alpha * f0);
            board.vertex(a1, a.ink, a.alpha * f1);
            board.vertex(b1, b.ink, b.alpha * f1);
        };
        quad(a.outer_left, a.left, b.outer_left, b.left, 0.0, 1.0);
        quad(a.left, a.right, b.left, b.right, 1.0, 1.0);
        quad(a.right, a.outer_right, b.right, b.outer_right, 1.0, 0.0);
    }
}

void Canvas::device_fill(const std::vector<Point>& polygon, Ink colour) {
    const std::size_t n = polygon.size();
    if (n < 3) return;
    double twice_area = 0.0;
    Point middle;
    for (std::size_t i = 0; i < n; ++i) {
        const Point &a = polygon[i], &b = polygon[(i + 1) % n];
        twice_area += a.x * b.y - b.x * a.y;
        middle = {middle.x + a.x / static_cast<double>(n), middle.y + a.y / static_cast<double>(n)};
    }
    const double side = twice_area > 0.0 ? 1.0 : -1.0;
    std::vector<Point> inner(n), outer(n);
    for (std::size_t i = 0; i < n; ++i) {
        const Point in = towards(polygon[(i + n - 1) % n], polygon[i]), out = towards(polygon[i], polygon[(i + 1) % n]);
        const Point along = towards({0, 0}, {in.x + out.x, in.y + out.y});
        const double cosine = std::max(along.x * in.x + along.y * in.y, 1.0 / kSharpestMitre);
        const Point outward{along.y * side, -along.x * side};
        inner[i] = offset(polygon[i], outward, -kFeather / 2.0 / cosine);
        outer[i] = offset(polygon[i], outward, kFeather / 2.0 / cosine);
    }
    Board& board = *board_;
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t next = (i + 1) % n;
        board.vertex(middle, colour);
        board.vertex(inner[i], colour);
        board.vertex(inner[next], colour);
        board.vertex(inner[i], colour);
        board.vertex(outer[i], colour, 0.0);
        board.vertex(inner[next], colour);
        board.vertex(inner[next], colour);
        board.vertex(outer[i], colour, 0.0);
        board.vertex(outer[next], colour, 0.0);
    }
}

void Canvas::strip(std::span<const StripPoint> points, bool closed) {
    std::vector<StripPoint> device(points.begin(), points.end());
    for (StripPoint& point : device) {
        point.at = fit_.to_window(point.at);
        point.width *= fit_.scale;
    }
    device_strip(device, closed);
}

void Canvas::line(Point from, Point to, double width, Ink colour) {
    const StripPoint ends[] = {{from, width, colour}, {to, width, colour}};
    strip(ends);
}

void Canvas::polyline(std::span<const Point> points, double width, Ink colour, bool closed) {
    std::vector<StripPoint> device;
    device.reserve(points.size());
    for (const Point& point : points) device.push_back({fit_.to_window(point), width * fit_.scale, colour});
    device_strip(device, closed);
}

void Canvas::dashed(std::span<const Point> points, double width, Ink colour, double dash, double gap) {
    double along = 0.0;  // since the last dash began
    std::vector<Point> piece;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        const Point direction = towards(points[i], points[i + 1]);
        const double length = norm({points[i + 1].x - points[i].x, points[i + 1].y - points[i].y});
        double done = 0.0;
        if (along < dash) piece.push_back(points[i]);
        while (done < length) {
            const double next = along < dash ? dash : dash + gap;
            const double step = std::min(next - along, length - done);
            done += step;
            along += step;
            if (along < next - 1e-9) break;
            const Point here = offset(points[i], direction, done);
            if (next == dash) {
                piece.push_back(here);
                polyline(piece, width, colour);
                piece.clear();
            } else {
                along = 0.0;
                piece.assign(1, here);
            }
        }
    }
    if (!piece.empty() && !points.empty()) {
        piece.push_back(points.back());
        polyline(piece, width, colour);
    }
}

void Canvas::disc(Point centre, double radius, Ink colour) {
    const double device = radius * fit_.scale;
    std::vector<Point> polygon =
        arc_points(fit_.to_window(centre), std::max(device, 0.1), 0.0, 2.0 * kPi, corners_of_circle(device) + 1);
    polygon.pop_back();
    device_fill(polygon, colour);
}

void Canvas::glow(Point centre, double radius, Ink colour) {
    const Point middle = fit_.to_window(centre);
    const double device = radius * fit_.scale;
    const std::vector<Point> half = arc_points(middle, device * 0.5, 0.0, 2.0 * kPi, corners_of_circle(device) + 1);
    const std::vector<Point> whole = arc_points(middle, device, 0.0, 2.0 * kPi, corners_of_circle(device) + 1);
    constexpr double kHalfway = 0.35;  // of the light; falls off faster than a straight cone would
    for (std::size_t i = 0; i + 1 < whole.size(); ++i) {
        board_->vertex(middle, colour);
        board_->vertex(half[i], colour, kHalfway);
        board_->vertex(half[i + 1], colour, kHalfway);
        board_->vertex(half[i], colour, kHalfway);
        board_->vertex(whole[i], colour, 0.0);
        board_->vertex(half[i + 1], colour, kHalfway);
        board_->vertex(half[i + 1], colour, kHalfway);
        board_->vertex(whole[i], colour, 0.0);
        board_->vertex(whole[i + 1], colour, 0.0);
    }
}

void Canvas::circle(Point centre, double radius, double width, Ink colour) {
    std::vector<Point> points = arc_points(centre, radius, 0.0, 2.0 * kPi, corners_of_circle(radius * fit_.scale) + 1);
    points.pop_back();
    polyline(points, width, colour, true);
}

void Canvas::arc(Point centre, double radius, double from_rad, double to_rad, double width, Ink colour) {
    const double share = std::abs(to_rad - from_rad) / (2.0 * kPi);
    const int count = 3 + static_cast<int>(share * corners_of_circle(radius * fit_.scale));
    polyline(arc_points(centre, radius, from_rad, to_rad, count), width, colour);
}

void Canvas::ribbon(std::span<const Point> one, std::span<const Point> other, Ink colour_one, Ink colour_other) {
    for (std::size_t i = 0; i + 1 < std::min(one.size(), other.size()); ++i) {
        const Point a0 = fit_.to_window(one[i]), a1 = fit_.to_window(one[i + 1]);
        const Point b0 = fit_.to_window(other[i]), b1 = fit_.to_window(other[i + 1]);
        board_->vertex(a0, colour_one);
        board_->vertex(b0, colour_other);
        board_->vertex(a1, colour_one);
        board_->vertex(a1, colour_one);
        board_->vertex(b0, colour_other);
        board_->vertex(b1, colour_other);
    }
}

void Canvas::fill(std::span<const Point> convex, Ink colour) {
    std::vector<Point> device;
    for (const Point& point : convex) device.push_back(fit_.to_window(point));
    device_fill(device, colour);
}

void Canvas::panel(const Rect& place, double radius, Ink colour, Ink edge) {
    std::vector<Point> outline;
    const Point corners[] = {{place.x + place.width - radius, place.y + place.height - radius},
                             {place.x + radius, place.y + place.height - radius},
                             {place.x + radius, place.y + radius},
                             {place.x + place.width - radius, place.y + radius}};
    for (int corner = 0; corner < 4; ++corner) {
        constexpr int kCornerPoints = 8;
        const std::vector<Point> round =
            arc_points(corners[corner], radius, corner * kPi / 2.0, (corner + 1) * kPi / 2.0, kCornerPoints);
        outline.insert(outline.end(), round.begin(), round.end());
    }
    if (colour.a > 0) fill(outline, colour);
    if (edge.a > 0) polyline(outline, 1.2, edge, true);
}

void Canvas::triangle_sign(Point centre, double size) {
    const auto corner = [&](double deg, double reach) {
        const double a = rad_from_deg(deg);
        return Point{centre.x + reach * std::cos(a), centre.y + size * 0.12 + reach * std::sin(a)};
    };
    const Point outline[] = {corner(-90, size * 0.62), corner(30, size * 0.62), corner(150, size * 0.62)};
    fill(outline, palette::kWarning);
    line({centre.x, centre.y - size * 0.14}, {centre.x, centre.y + size * 0.16}, size * 0.12, palette::kWarningDeep);
    disc({centre.x, centre.y + size * 0.30}, size * 0.07, palette::kWarningDeep);
}

}  // namespace graftwright
