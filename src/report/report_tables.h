// The report's tables as HTML: readings, marks, bites, and the sources they stand on.
#pragma once

#include <string>

#include "report/case.h"

namespace graftwright {

// Attempt, ideal twin and what is asked for, reading by reading.
[[nodiscard]] std::string readings_table(const Case& what);
// Every rule of the score: measured, full marks, none, points, source. Empty without a score.
[[nodiscard]] std::string marks_table(const Case& what);
// A line a bite, with the limits it broke in words and by letter; by letter alone, in two tables side by side, where
// that would take more than 24 lines.
[[nodiscard]] std::string bites_table(const Case& what);
// The letters: each limit that was broken; with its source where there is room for it.
[[nodiscard]] std::string limits_list(const Case& what);
// What the sources are that limits and rules name.
[[nodiscard]] std::string sources_line(const Case& what);

}  // namespace graftwright
