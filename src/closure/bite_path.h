// The way of one bite's thread through both sides, and the forces it puts on the tissue.
//
// Each side: entry or exit at distance b from the wound (along the outer surface), depth d at the
// wound face. The surface strand runs along the curved outer surface; the deep strand follows the
// needle: from the surface at b to depth d at the wound, a quarter ellipse for a perpendicular entry,
// a straight line for the flattest, blended between linearly in the entry angle. Both are sampled in
// their true places in space. The force of a strand of unit tension on the tissue at a sample is
// (next tangent − last tangent); at the entry the first tangent itself; at the wound the strand goes on
// along the local meridian, so the last force is (meridian − last tangent). The forces of one side
// thus sum to twice the tension toward the other side. Spread along the circumference: Gaussian,
// σ = 0.15 mm (the design's choice, and what the 3-D reference spreads); along the meridian Gaussian,
// σ = 0.1 mm, as there too: a needle's track is about that wide, and a force at a point would put a
// kink into w that is no part of the answer.
// mm, rad; forces per newton of tension. Source: the design's own derivation, checked against 3-D
// solids (tests/score/ring_reference_test.cpp).
#pragma once

#include <vector>

#include "closure/strand.h"
#include "files/attempt.h"

namespace graftwright {

// One bite in internal units, the donor already turned to where it lies in the eye.
struct BiteGeometry {
    double donor_theta = 0.0;  // where the path crosses the donor's edge, in the eye's frame
    double host_theta = 0.0;
    double donor_skew = 0.0;  // sideways offset of entry and exit, + counter-clockwise
    double host_skew = 0.0;
    double donor_length = 1.1;  // along the outer surface, wound to entry
    double host_length = 1.1;
    double donor_depth = 0.5;  // at the wound face, from the front
    double host_depth = 0.56;
    double donor_entry = 0.5 * kPi;  // path against the surface
    double host_exit = 0.5 * kPi;
};

// donor_turn: counter-clockwise turn (rad) of the donor's own frame in the eye.
[[nodiscard]] BiteGeometry bite_geometry(const BitePath& path, double donor_turn);

[[nodiscard]] SideBite donor_side(const BiteGeometry& bite);
[[nodiscard]] SideBite host_side(const BiteGeometry& bite);

struct ThreadPath {
    std::vector<PointForce> donor, host;
    double length = 0.0;  // both strands, both sides: the loop's tissue length
};

// The needle's way through one side's tissue in its flattened section: `along` from the entry (0) to the
// wound (1) as a share of the bite's length, `depth` from the front. Entry first, spans + 1 places.
struct SectionPoint {
    double along = 0.0, depth = 0.0;
};
[[nodiscard]] std::vector<SectionPoint> needle_section(double length, double depth, double entry, int spans);

[[nodiscard]] ThreadPath thread_path(const BiteGeometry& bite, const Meridian& donor, const Meridian& host);

}  // namespace graftwright
