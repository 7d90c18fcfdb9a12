// Middles of a handful of numbers.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

#include "base/check.h"

namespace graftwright {

// Of something; of an even count the mean of the middle two.
[[nodiscard]] inline double median(std::vector<double> values) {
    GRAFTWRIGHT_CHECK(!values.empty(), "a median of something");
    std::sort(values.begin(), values.end());
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

// The value at this share (0 … 1) of the way from the least to the most: one of them, nothing between two.
template <typename Value>
[[nodiscard]] Value quantile(std::vector<Value> values, double share) {
    GRAFTWRIGHT_CHECK(!values.empty(), "a quantile of something");
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

}  // namespace graftwright
