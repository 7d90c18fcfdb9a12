// Words that a figure has wherever it is drawn.
#pragma once

#include <string>

#include "files/scenario.h"

namespace graftwright {

[[nodiscard]] const char* word_of(Side side);  // "right eye"
// An axis in whole degrees, [0, 180): 179.7 reads "0°".
[[nodiscard]] std::string whole_axis_deg(double deg);

}  // namespace graftwright
