// Running threads made of single bites. A closure scored before keeps the single bites' numbers, which is enough where
// only the layout of a picture is looked at; scored anew it has the running thread's own.
#pragma once

#include <algorithm>
#include <numeric>
#include <vector>

#include "files/attempt.h"
#include "score/scorecard.h"

namespace graftwright::scenes {

// Numbers of the bites from `first` on, counter-clockwise from 90° on.
[[nodiscard]] inline std::vector<std::size_t> lay_order(const std::vector<Bite>& bites, std::size_t first) {
    std::vector<std::size_t> order(bites.size() - first);
    std::iota(order.begin(), order.end(), first);
    const auto from_twelve = [&](std::size_t b) {
        const double deg = bites[b].host_deg - 90.0 + 1e-6;
        return deg < 0.0 ? deg + 360.0 : deg;
    };
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return from_twelve(a) < from_twelve(b); });
    return order;
}

// The single bites from `first` on become the first run, in that order. Several runs are made from the last to the
// first.
inline void make_run(std::vector<Bite>& bites, std::vector<Run>& runs, std::size_t first, double tension_mN = 12.0) {
    Run run;
    run.tension_mN = tension_mN;
    for (const std::size_t b : lay_order(bites, first)) run.bites.push_back({static_cast<const BitePath&>(bites[b])});
    bites.resize(first);
    runs.insert(runs.begin(), std::move(run));
}

// The same of a scored attempt; the card's rows go with the bites.
inline void make_run(Attempt& attempt, Scorecard& card, std::size_t first) {
    const std::vector<std::size_t> order = lay_order(attempt.bites, first);
    const std::vector<BiteMetrics> bites = card.bites;
    const auto shares = card.shares;
    const std::vector<double> tension_mN_now = card.attempt.tension_mN;
    for (std::size_t k = 0; k < order.size(); ++k) {
        card.bites[first + k] = bites[order[k]];
        card.shares[first + k] = shares[order[k]];
        if (!tension_mN_now.empty()) card.attempt.tension_mN[first + k] = tension_mN_now[order[k]];
    }
    make_run(attempt.bites, attempt.runs, first);
}

}  // namespace graftwright::scenes
