#include "score/bites_in_order.h"

#include <algorithm>

namespace graftwright {

std::vector<OrderedBite> bites_in_order(const std::vector<Bite>& bites, const std::vector<Run>& runs) {
    std::vector<OrderedBite> ordered;
    for (const Bite& bite : bites) ordered.push_back({bite, std::nullopt, 0});
    for (std::size_t r = 0; r < runs.size(); ++r) {
        for (std::size_t k = 0; k < runs[r].bites.size(); ++k) {
            OrderedBite bite;
            static_cast<BitePath&>(bite) = runs[r].bites[k];
            bite.tension_mN = runs[r].tension_mN;
            bite.throws.clear();
            bite.run = r;
            bite.in_run = k;
            ordered.push_back(bite);
        }
    }
    return ordered;
}

std::vector<std::vector<std::size_t>> patterns_in_eye(const std::vector<OrderedBite>& ordered) {
    const bool runs = !ordered.empty() && ordered.back().run;
    std::vector<std::vector<std::size_t>> patterns(runs ? *ordered.back().run + 2 : 1);
    for (std::size_t b = 0; b < ordered.size(); ++b) {
        if (!ordered[b].removed) patterns[ordered[b].run ? *ordered[b].run + 1 : 0].push_back(b);
    }
    patterns.erase(std::remove_if(patterns.begin(), patterns.end(), [](const auto& one) { return one.empty(); }),
                   patterns.end());
    return patterns;
}

std::vector<RunSpan> run_spans(std::size_t single_bites, const std::vector<Run>& runs) {
    std::vector<RunSpan> spans;
    std::size_t first = single_bites;
    for (std::size_t r = 0; r < runs.size(); ++r) {
        const std::size_t n = runs[r].bites.size();
        for (std::size_t k = 0; k < n; ++k) spans.push_back({first + k, first + (k + 1) % n, r, k + 1 == n});
        first += n;
    }
    return spans;
}

std::size_t bite_count(const Attempt& attempt) {
    std::size_t count = attempt.bites.size();
    for (const Run& run : attempt.runs) count += run.bites.size();
    return count;
}

std::size_t bites_in_eye(const std::vector<Bite>& bites, const std::vector<Run>& runs) {
    auto count = static_cast<std::size_t>(
        std::count_if(bites.begin(), bites.end(), [](const Bite& bite) { return !bite.removed; }));
    for (const Run& run : runs) count += run.bites.size();
    return count;
}

std::pair<std::vector<Bite>, std::vector<Run>> bites_and_runs(const std::vector<OrderedBite>& ordered,
                                                              std::vector<Run> runs) {
    std::vector<Bite> bites;
    for (Run& run : runs) run.bites.clear();
    for (const OrderedBite& bite : ordered) {
        if (bite.run) {
            runs[*bite.run].bites.push_back({static_cast<const BitePath&>(bite)});
        } else {
            bites.push_back(bite);
        }
    }
    return {std::move(bites), std::move(runs)};
}

}  // namespace graftwright
