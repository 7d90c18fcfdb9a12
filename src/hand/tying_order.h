// The order in which single bites are usually tied: cardinals at 12, 6, 3 and 9 o'clock, then the widest gap
// halved, each followed by the one opposite. Common practice, no source.
#pragma once

#include <vector>

#include "files/scenario.h"

namespace graftwright {

// Angles (deg, 0 up to 360) of `bites` equal slots, the first at 12 o'clock, in tying order.
[[nodiscard]] std::vector<double> tying_order_deg(int bites);

// Where a pattern's bites go, shared out evenly (our choice; numbers of each: figures T3-36). Interrupted: all single.
// Combined: half of them single, a run of the others between. Running: one run, its first bite half a gap past
// 12 o'clock, so that four cardinals may hold the donor meanwhile. Double running: two runs of half each, the second
// between the first. Runs in lay order, counter-clockwise.
struct TaskSlots {
    std::vector<double> single_deg;  // in tying order
    std::vector<std::vector<double>> run_deg;
};
[[nodiscard]] TaskSlots task_slots(Pattern pattern, int bites);

}  // namespace graftwright
