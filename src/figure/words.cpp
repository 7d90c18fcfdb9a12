#include "figure/words.h"

#include <cmath>

#include "optics/power_vector.h"

namespace graftwright {

const char* word_of(Side side) { return side == Side::right ? "right eye" : "left eye"; }

std::string whole_axis_deg(double deg) { return std::to_string(std::lround(axis_in_half_turn_deg(deg)) % 180) + "°"; }

}  // namespace graftwright
