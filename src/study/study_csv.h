// A study as CSV (RFC 4180): one header row, one row a trial, CR LF, quotes doubled.
//
// CSV knows no comments, so the caution is a column of its own: every row says it, and rows can be cut,
// joined and sorted by any program. A number that does not exist is an empty field. Decimal point, no locale.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "study/study.h"

namespace graftwright {

[[nodiscard]] std::string study_csv_header();
[[nodiscard]] std::string study_csv_row(const std::string& scenario, const StudyOptions& options, const Trial& trial);

}  // namespace graftwright
