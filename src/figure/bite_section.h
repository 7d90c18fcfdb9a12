// One bite cut along its own plane, to scale: donor on the left, host on the right, front above.
//
// The cut is the flattened one in which bites are recorded: lengths along the surface, depths from the front, the
// needle's way as the mechanics has it (closure/bite_path.h). Step and posterior gape may be those of the solved wound
// at the bite; nothing else is deformed. mm; x outward from the wound, y up from the donor's front.
#pragma once

#include <array>
#include <vector>

#include "base/point.h"
#include "files/scenario.h"
#include "score/bites_in_order.h"
#include "score/measured_closure.h"

namespace graftwright {

// Host over donor at the front, and how far the faces stand apart at the back, mm.
struct WoundAtBite {
    double step = 0.0, gape = 0.0;
};
[[nodiscard]] WoundAtBite wound_at(const std::vector<SealPlace>& profile, double deg);

struct BiteSection {
    struct Line {
        Point from, to;
    };
    std::vector<Point> donor, host;  // their outlines: along the front, then back
    std::array<Line, 4> taught;      // depths to aim between: shallowest on donor and host, deepest on donor and host
    std::vector<Point> thread;       // in the tissue, from its entry on the donor to its exit on the host
    std::vector<Point> strand;       // on the surface; empty: a running thread leaves the cut, to its neighbours
};

// half_mm: how much of the walls is shown on either side of the wound. WoundAtBite{}: as the bite was laid.
[[nodiscard]] BiteSection bite_section(const Scenario& scenario, const OrderedBite& bite, const WoundAtBite& wound,
                                       double half_mm);

}  // namespace graftwright
