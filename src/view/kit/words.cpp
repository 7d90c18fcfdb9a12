#include "view/kit/words.h"

#include <algorithm>

#include <fmt/format.h>

namespace graftwright::words {

std::string number(double value, int decimals) { return shown_number(value, decimals); }

std::string clock(double seconds) {
    const auto whole = static_cast<long>(std::max(0.0, seconds));
    return fmt::format("{:02}:{:02}", whole / 60, whole % 60);
}

}  // namespace graftwright::words
