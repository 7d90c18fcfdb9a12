// Words and numbers that several views write.
#pragma once

#include <string>
#include <string_view>

#include "base/words.h"

namespace graftwright::words {

inline constexpr std::string_view kCaution =
    "Training only: not a medical device, not validated on patients; never to choose a suture in a person.";

[[nodiscard]] std::string number(double value, int decimals);  // with a true minus sign
[[nodiscard]] std::string clock(double seconds);               // mm:ss

}  // namespace graftwright::words
