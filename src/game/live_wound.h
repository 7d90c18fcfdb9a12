// The wound as last solved: what rings, gape and streams are drawn from. Immutable once made.
//
// Made from the bites tied so far, on a solver of its own thread or in line; the hand's record depends
// on none of it before the tick at which it is adopted (session.h). Field frame, mm (x toward 0°).
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/point.h"
#include "figure/curvature_map.h"
#include "files/attempt.h"
#include "optics/keratometry.h"
#include "score/drill.h"
#include "score/scorecard.h"

namespace graftwright {

// A square map over the donor: value at column i, row j for x = (2i/(n−1) − 1) reach, y likewise (row 0
// at the bottom, −reach); NaN outside the surface.
struct SurfaceMap {
    int n = 0;
    double reach_mm = 0.0;
    std::vector<float> value;
    [[nodiscard]] float at(int i, int j) const { return value[static_cast<std::size_t>(j * n + i)]; }
};

struct LiveWound {
    int tick = 0;            // asked at
    bool converged = false;  // false: reason says why; nothing below is meant then but `rings`
    std::string reason;
    bool rigid = true;  // fewer than three bites: the donor undeformed, to be drawn dimmed
    double pressure_mmHg = 0.0;
    std::vector<double> tension_mN;            // by bite, in the order of bites_in_order
    std::vector<std::vector<double>> span_mN;  // of each run, by span: from its bite k to the next
    // Around the wound at equal angles from 0°: gap at front and back (µm, 0 where it presses), step (µm,
    // host over donor), sealing pressure (mmHg).
    std::vector<double> gap_front_um, gap_back_um, step_um, seal_mmHg;
    std::optional<Keratometry> keratometry;
    // Reflected rings of the ring light, inmost first: closed polylines of their images on the cornea.
    std::vector<std::vector<Point>> rings;
    SurfaceMap slope_x, slope_y;  // of the front, for shading
};

// Everything after the last knot.
struct Debrief {
    Attempt attempt;
    Scorecard card;
    std::string advice;                            // one sentence from the largest share
    std::optional<DrillVerdict> drill;             // of a drill: passed or not, and why, whether the wound holds or not
    std::shared_ptr<const LiveWound> wound, twin;  // attempt's and ideal twin's, chamber filled
    std::optional<CurvatureMap> map, twin_map;  // axial power; empty where there is no closure
    std::shared_ptr<const LiveWound> posed, answered;  // of a question drill: as posed, and as answered
};

}  // namespace graftwright
