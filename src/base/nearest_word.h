// What somebody may have meant by a mistyped word.
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace graftwright {

// Letters to put in, leave out, replace, or swap with their neighbour (optimal string alignment, bytes).
[[nodiscard]] inline std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), now(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        now[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            now[j] = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1)});
            const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (swapped) now[j] = std::min(now[j], before[j - 2] + 1);
        }
        before = last;
        last = now;
    }
    return last[b.size()];
}

// The nearest of these words, the first of equals, within two edits and less than half of its own letters: a word
// of four letters changed in two is another word.
template <typename Words>
[[nodiscard]] std::optional<std::string> nearest_word(std::string_view typed, const Words& words) {
    constexpr std::size_t kMost = 2;
    std::optional<std::string> nearest;
    std::size_t least = kMost + 1;
    for (const std::string& word : words) {
        const std::size_t distance = edit_distance(typed, word);
        if (distance >= least || 2 * distance >= word.size()) continue;
        least = distance;
        nearest = word;
    }
    return nearest;
}

}  // namespace graftwright
