// Where and in which order an even pattern of single bites is tied.
//
// n equal slots in the order they are taught: 12 o'clock, 6 opposite, then always into the widest gap, the
// opposite one next, and across the last pair rather than beside it (16: 90 270 0 180 45 225 135 …). Degrees
// counter-clockwise, 0 = 3 o'clock. Common practice, no source.
#pragma once

#include <vector>

namespace graftwright {

[[nodiscard]] std::vector<double> cardinal_first_deg(int n);

}  // namespace graftwright
