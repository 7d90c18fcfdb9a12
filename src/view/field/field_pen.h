// What the parts of the field's picture share: a canvas, the snapshot, and the way from mm to design pixels.
// One file per thing in the field; field_view.cpp says in which order they lie over one another.
#pragma once

#include <cmath>
#include <vector>

#include "base/point.h"
#include "game/snapshot.h"
#include "view/field/wound_outline.h"
#include "view/kit/canvas.h"

namespace graftwright {

struct FieldPen {
    Canvas& canvas;
    const Snapshot& snapshot;
    const WoundOutline& outline;

    [[nodiscard]] Point px(Point mm) const { return snapshot.layout.field_to_canvas(mm); }
    [[nodiscard]] double px(double mm) const { return snapshot.layout.field_pixels_per_mm() * mm; }
    [[nodiscard]] std::vector<Point> px(const std::vector<Point>& mm) const {
        std::vector<Point> points;
        points.reserve(mm.size());
        for (const Point& point : mm) points.push_back(px(point));
        return points;
    }
};

[[nodiscard]] inline Point unit(Point from, Point to) {
    const double length = distance(from, to);
    return length > 1e-9 ? Point{(to.x - from.x) / length, (to.y - from.y) / length} : Point{1.0, 0.0};
}

// wound.cpp
void draw_wound(const FieldPen& pen);    // the gap, both edges, iris caught in it
void draw_marks(const FieldPen& pen);    // the donor's radial ink
void draw_streams(const FieldPen& pen);  // dark in the stain
// folds.cpp
void draw_folds(const FieldPen& pen);  // dimples and folds that over-tight bites throw
// light.cpp
void draw_rings(const FieldPen& pen);
void draw_tension_lines(const FieldPen& pen);
void draw_clock_hours(const FieldPen& pen);
// threads.cpp
void draw_threads(const FieldPen& pen);
void draw_thread_in_hand(const FieldPen& pen);
// question.cpp
void draw_question(const FieldPen& pen);  // the choices of a drill's question
// tools.cpp
void draw_aim(const FieldPen& pen);
void draw_forceps(const FieldPen& pen);
void draw_needle(const FieldPen& pen);

// A way across the plane of a bite, field mm: x mm outward of the host's edge.
[[nodiscard]] Point on_plane(const BitePlane& plane, double x_mm);
[[nodiscard]] Point plane_direction(const BitePlane& plane);

}  // namespace graftwright
