// A level in words: what it practises, what is to be laid, what it takes to pass.
#pragma once

#include <string>

#include "files/scenario.h"

namespace graftwright {

// "closure" → "Whole closure" and so on.
[[nodiscard]] const char* kind_words(ScenarioKind kind);
[[nodiscard]] const char* pattern_words(Pattern pattern);
// "16 bites, interrupted, 8 already in place, within 20 minutes"
[[nodiscard]] std::string task_words(const Scenario& level);
// Every mark that is asked, and what a question wants.
[[nodiscard]] std::string pass_words(const Scenario& level);

}  // namespace graftwright
