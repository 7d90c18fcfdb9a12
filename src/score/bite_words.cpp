#include "score/bite_words.h"

#include <algorithm>

#include <fmt/format.h>

namespace graftwright {
namespace {

// First and behind the last bite of each run, in order.
std::vector<std::pair<std::size_t, std::size_t>> runs_of(const std::vector<OrderedBite>& bites) {
    std::vector<std::pair<std::size_t, std::size_t>> runs;
    for (std::size_t b = 0; b < bites.size(); ++b) {
        if (!bites[b].run) continue;
        if (bites[b].in_run == 0) runs.emplace_back(b, b);
        runs.back().second = b + 1;
    }
    return runs;
}

}  // namespace

std::string bite_name(const std::vector<OrderedBite>& bites, std::size_t b) {
    std::string name = fmt::format("bite {}", b + 1);
    if (b >= bites.size() || !bites[b].run) return name;
    return name + fmt::format(" ({}, bite {})", run_name(bites[b]), bites[b].in_run + 1);
}

std::string run_name(const OrderedBite& bite) { return bite.run ? fmt::format("run {}", *bite.run + 1) : ""; }

std::string run_numbers(const std::vector<OrderedBite>& bites) {
    constexpr std::size_t kMostNamed = 2;
    const auto runs = runs_of(bites);
    if (runs.size() > kMostNamed) return fmt::format("from {} on: {} runs", runs.front().first + 1, runs.size());
    std::string words;
    for (const auto& [first, end] : runs) {
        words += fmt::format("{}{}–{}: {}", words.empty() ? "" : "; ", first + 1, end, run_name(bites[first]));
    }
    return words;
}

std::string threads_words(const std::vector<OrderedBite>& bites) {
    const auto runs = runs_of(bites);
    if (runs.empty()) return "";
    const std::size_t running = bites.size() - runs.front().first;
    const auto single =
        std::count_if(bites.begin(), bites.end(), [](const OrderedBite& bite) { return !bite.run && !bite.removed; });
    std::string words = single > 0 ? fmt::format("{} single, ", single) : "";
    return words + (runs.size() == 1 ? fmt::format("{} in a running thread", running)
                                     : fmt::format("{} in {} running threads", running, runs.size()));
}

std::vector<std::size_t> bites_of_the_hand(const Start& start, std::size_t bites, const std::vector<Run>& runs) {
    std::size_t running = 0, running_at_start = 0;
    for (std::size_t r = 0; r < runs.size(); ++r) {
        running += runs[r].bites.size();
        if (r < start.runs.size()) running_at_start += runs[r].bites.size();
    }
    const std::size_t single = bites - std::min(bites, running);
    std::vector<std::size_t> own;
    for (std::size_t b = 0; b < bites; ++b) {
        const std::size_t first = b < single ? start.bites.size() : single + running_at_start;
        if (b >= first) own.push_back(b);
    }
    return own;
}

}  // namespace graftwright
