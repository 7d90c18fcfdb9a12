// What the parts of the section's picture share: a canvas, the snapshot, walls of tissue. Section frame, mm
// (hand/needle.h): x outward with 0 at the host's edge, y out of the eye with 0 at the host's flat front.
#pragma once

#include <string_view>
#include <vector>

#include "base/point.h"
#include "game/snapshot.h"
#include "view/kit/canvas.h"

namespace graftwright {

struct SectionPen {
    Canvas& canvas;
    const Snapshot& snapshot;
    [[nodiscard]] Point px(Point mm) const { return snapshot.layout.section_to_canvas(mm); }
    [[nodiscard]] std::vector<Point> px(const std::vector<Point>& mm) const {
        std::vector<Point> points;
        points.reserve(mm.size());
        for (const Point& point : mm) points.push_back(px(point));
        return points;
    }
};

struct Wall {
    std::vector<Point> front, back;  // from left to right, as many points each
    double thickness_mm = 0.55;
    bool donor = true;

    // The line at so many mm under the front.
    [[nodiscard]] std::vector<Point> at_depth(double mm) const;
};

// A flat wall between cut faces; the two ends of a face may stand apart (a gaping wound leans).
struct FlatWall {
    double front_from = 0.0, back_from = 0.0, front_to = 0.0, back_to = 0.0;
    double top_mm = 0.0, thickness_mm = 0.55;
    bool donor = true;
};
[[nodiscard]] Wall flat_wall(const FlatWall& shape);

inline constexpr double kShown_mm = 1.45;  // to either side of the wound, a little more than the section shows

// section_tissue.cpp
void draw_wall(const SectionPen& pen, const Wall& wall);
// Viscoelastic in chamber and wound, and the iris that comes up as it is lost.
void draw_chamber(const SectionPen& pen, double thickness_mm);
// section_quiet.cpp: no needle set down; the wound as it lies where the plane or the last bite crosses it.
void draw_quiet_section(const SectionPen& pen);

// A short line on a dark tab.
void draw_tab(const SectionPen& pen, Point at, std::string_view words, Ink colour, Align align = Align::left);

}  // namespace graftwright
