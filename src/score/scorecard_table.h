// The scorecard for people: plain text, a line a bite; sentences are not broken.
//
// The table of bites can be cut by a machine: its numbers have an ASCII '-'. Everywhere else, as on screens and in
// the report, numbers have the true minus sign.
#pragma once

#include <string>

#include "score/scorecard.h"

namespace graftwright {

// What every output of this program says about itself.
inline constexpr const char* kCaution =
    "Training only: not a medical device, not validated on patients, certifies nobody, takes no\n"
    "patient's data. Never use it to choose a suture to place, adjust or remove in a person; your\n"
    "supervising surgeons and local protocols come first.";

[[nodiscard]] std::string scorecard_table(const Scenario& scenario, const Attempt& attempt, const Scorecard& card);
// Every rule with what was measured, what earns full and no marks, and its source.
[[nodiscard]] std::string scorecard_explanation(const Scorecard& card);
// One sentence that follows from the largest share.
[[nodiscard]] std::string advice(const Attempt& attempt, const Scorecard& card);

}  // namespace graftwright
