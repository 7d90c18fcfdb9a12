// The pictures of a group's page: where points go, which bite number costs most, which slips are frequent.
#pragma once

#include "logbook/group_summary.h"
#include "report/picture.h"

namespace graftwright {

// What each part of the score could have earned, what it did, all levels together.
[[nodiscard]] Picture losses_picture(const GroupSummary& group);
// What the bite of each number costs on the mean, in dioptres; numbers are the order of tying.
[[nodiscard]] Picture bite_numbers_picture(const GroupSummary& group);
// The most frequent slips, in percent of all bites.
[[nodiscard]] Picture slips_picture(const GroupSummary& group);

// "21 %", "0.4 %", "–" of nothing.
[[nodiscard]] std::string percent(long long part, long long whole);
// A flag of a file in the words that people use for it; another version's as it stands there.
[[nodiscard]] std::string flag_words(const std::string& flag);

}  // namespace graftwright
