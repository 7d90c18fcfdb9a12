// One sentence of advice after an attempt, from the largest share.
#pragma once

#include <string>

#include "score/scorecard.h"

namespace graftwright {

// Names the bite that costs most (astigmatism first, then leak) and what is the matter with it: "Bite 2,
// 11° off opposite: 1.9 D". Says so where no bite stands out, or where there is no balance.
[[nodiscard]] std::string advice_sentence(const Scorecard& card);
// The flag in trade words: "shallow in the donor".
[[nodiscard]] std::string flag_words(const std::string& flag);

}  // namespace graftwright
