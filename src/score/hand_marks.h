// The marks of the hand: what a ruler and a protractor read off the bites, without solving anything.
//
// They hold for one bite as for sixteen, so a drill of a single skill can be judged where no closure can
// be solved. Looked at are the bites that the hand laid and left in the eye; those of the level's start are
// not its doing, but `tension_range` compares all that are in place.
#pragma once

#include <vector>

#include "score/bite_metrics.h"
#include "score/pass_marks.h"

namespace graftwright {

// Off the place across from the bite that lies most nearly opposite, the larger at donor's and host's edge
// (deg); empty where no other bite lies within 45° of opposite.
[[nodiscard]] std::optional<double> opposite_error_deg(const std::vector<OrderedBite>& bites, std::size_t bite);
[[nodiscard]] std::optional<double> opposite_error_deg(const std::vector<Bite>& bites, std::size_t bite);

// Tensions as locked of the single bites in place: largest less smallest over the median (0 where all are 0).
[[nodiscard]] double locked_tension_range(const std::vector<Bite>& bites);

// Events that harm: trauma, iris_caught, endothelial_touch.
[[nodiscard]] std::size_t harms(const Attempt& attempt);

// One mark for every limit of the hand's that the scenario sets and that can be measured.
[[nodiscard]] std::vector<PassMark> hand_marks(const Scenario& scenario, const Attempt& attempt,
                                               const std::vector<BiteMetrics>& metrics);

}  // namespace graftwright
