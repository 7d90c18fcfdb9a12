// The hours of the clock face around an eye.
#pragma once

namespace graftwright {

// Where a full hour stands (deg, [0, 360)) as an examiner sees it: 12 at 90°, 3 at 0°.
[[nodiscard]] constexpr double hour_deg(int hour) { return hour <= 3 ? 90.0 - 30.0 * hour : 450.0 - 30.0 * hour; }

}  // namespace graftwright
