// The ideal twin of a bite, and of an attempt.
//
// Twin: same place in the tying order; host_deg = the bite's slot among N equal slots, one to one in
// order of angle, the pattern's origin fitted (median of the offsets, so that a pattern turned as a
// whole has no fault and one bite off its mark does not shift the others' marks); graft_deg = host_deg
// + the attempt's median of graft_deg − host_deg; no skew; depth 0.92 of the local thickness; 1.1 mm on
// both sides; perpendicular entry and exit; tension the attempt's median tie tension. Ideal = all
// twins, tied in the same order: not optimised. Removed bites have no slot and stay as they are. A run is a pattern
// of its own: its bites have slots among themselves, its knot's tension and its friction stay. In the ideal its slack
// is worked round so well that all its spans are drawn to that tension.
#pragma once

#include <vector>

#include "files/scenario.h"
#include "score/bites_in_order.h"

namespace graftwright {

inline constexpr double kTwinDepth = 0.92, kTwinBite_mm = 1.1;

// Slot (deg) of each bite; removed bites get their own host_deg.
[[nodiscard]] std::vector<double> slots_deg(const std::vector<OrderedBite>& bites);
[[nodiscard]] std::vector<OrderedBite> ideal_twins(const Scenario& scenario, const std::vector<OrderedBite>& bites);
// The same of single bites alone.
[[nodiscard]] std::vector<double> slots_deg(const std::vector<Bite>& bites);
[[nodiscard]] std::vector<Bite> ideal_twins(const Scenario& scenario, const std::vector<Bite>& bites);

}  // namespace graftwright
