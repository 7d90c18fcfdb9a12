// The order in which single bites are usually tied: cardinals at 12, 6, 3 and 9 o'clock, then the widest gap
// halved, each followed by the one opposite. Common practice, no source.
#pragma once

#include <vector>

namespace graftwright {

// Angles (deg, 0 up to 360) of `bites` equal slots, the first at 12 o'clock, in tying order.
[[nodiscard]] std::vector<double> tying_order_deg(int bites);

}  // namespace graftwright
