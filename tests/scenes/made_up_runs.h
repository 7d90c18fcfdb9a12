// Running threads made up for pictures: a scored closure of single bites whose last ones are declared to lie on one
// thread. Its numbers stay those of the single bites: nothing here is a running thread's mechanics.
#pragma once

#include <algorithm>
#include <numeric>
#include <vector>

#include "files/attempt.h"
#include "score/scorecard.h"

namespace graftwright::scenes {

// The single bites from `first` on become the attempt's first run, laid counter-clockwise from 90° on; the card's
// rows go with them. Several runs are made from the last to the first.
inline void make_run(Attempt& attempt, Scorecard& card, std::size_t first, double tension_mN = 12.0) {
    std::vector<std::size_t> order(attempt.bites.size() - first);
    std::iota(order.begin(), order.end(), first);
    const auto from_twelve = [&](std::size_t b) {
        const double deg = attempt.bites[b].host_deg - 90.0 + 1e-6;
        return deg < 0.0 ? deg + 360.0 : deg;
    };
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return from_twelve(a) < from_twelve(b); });
    Run run;
    run.tension_mN = tension_mN;
    const std::vector<BiteMetrics> bites = card.bites;
    const auto shares = card.shares;
    const std::vector<double> tension_mN_now = card.attempt.tension_mN;
    for (std::size_t k = 0; k < order.size(); ++k) {
        run.bites.push_back({static_cast<const BitePath&>(attempt.bites[order[k]])});
        card.bites[first + k] = bites[order[k]];
        card.shares[first + k] = shares[order[k]];
        if (!tension_mN_now.empty()) card.attempt.tension_mN[first + k] = tension_mN_now[order[k]];
    }
    attempt.bites.resize(first);
    attempt.runs.insert(attempt.runs.begin(), std::move(run));
}

}  // namespace graftwright::scenes
