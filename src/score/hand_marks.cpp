#include "score/hand_marks.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "base/statistics.h"
#include "files/event_kind.h"
#include "score/bite_words.h"
#include "score/bites_in_order.h"
#include "score/scenario_model.h"

namespace graftwright {
namespace {

// Largest (or smallest) of a value over the hand's bites; empty where there are none.
template <typename Value>
std::optional<double> most(const std::vector<std::size_t>& bites, Value value) {
    std::optional<double> result;
    for (const std::size_t b : bites) {
        const std::optional<double> here = value(b);
        if (here && (!result || *here > *result)) result = here;
    }
    return result;
}
template <typename Value>
std::optional<double> least(const std::vector<std::size_t>& bites, Value value) {
    const std::optional<double> negative = most(bites, [&](std::size_t b) { return std::optional(-value(b)); });
    return negative ? std::optional(-*negative) : std::nullopt;
}

}  // namespace

std::optional<double> opposite_error_deg(const std::vector<OrderedBite>& bites, std::size_t bite) {
    constexpr double kAcross_deg = 45.0;  // half the way to the next cardinal: further off is no partner
    std::optional<double> nearest;
    double error = 0.0;
    for (std::size_t other = 0; other < bites.size(); ++other) {
        if (other == bite || bites[other].removed) continue;
        const double host = apart_deg(bites[bite].host_deg, bites[other].host_deg + 180.0);
        if (host > kAcross_deg || (nearest && host >= *nearest)) continue;
        nearest = host;
        error = std::max(host, apart_deg(bites[bite].graft_deg, bites[other].graft_deg + 180.0));
    }
    return nearest ? std::optional(error) : std::nullopt;
}

std::optional<double> opposite_error_deg(const std::vector<Bite>& bites, std::size_t bite) {
    return opposite_error_deg(bites_in_order(bites), bite);
}

double locked_tension_range(const std::vector<Bite>& bites) {
    std::vector<double> tensions;
    for (const Bite& bite : bites)
        if (!bite.removed) tensions.push_back(bite.tension_mN);
    if (tensions.empty()) return 0.0;
    const auto [low, high] = std::minmax_element(tensions.begin(), tensions.end());
    const double usual = median(tensions);
    return usual > 0.0 ? (*high - *low) / usual : 0.0;
}

std::size_t harms(const Attempt& attempt) {
    return static_cast<std::size_t>(std::count_if(attempt.events.begin(), attempt.events.end(), [](const Event& event) {
        return is(event, EventKind::trauma) || is(event, EventKind::iris_caught) || is(event, EventKind::endothelial_touch);
    }));
}

std::vector<PassMark> hand_marks(const Scenario& scenario, const Attempt& attempt,
                                 const std::vector<BiteMetrics>& metrics) {
    const PassMarks& pass = scenario.pass;
    const std::vector<OrderedBite> bites = bites_in_order(attempt);
    std::vector<std::size_t> mine;  // that the hand laid and left
    for (const std::size_t b : bites_of_the_hand(scenario.start, bites.size(), attempt.runs))
        if (!bites[b].removed) mine.push_back(b);
    const auto shallower = [&](std::size_t b) {
        return std::min(metrics[b].depth_fraction_graft, metrics[b].depth_fraction_host);
    };
    const auto deeper = [&](std::size_t b) {
        return std::optional(std::max(metrics[b].depth_fraction_graft, metrics[b].depth_fraction_host));
    };
    std::vector<PassMark> marks;
    ask(marks, Mark::least_depth, pass.least_depth_fraction, least(mine, shallower));
    ask(marks, Mark::greatest_depth, pass.most_depth_fraction, most(mine, deeper));
    ask(marks, Mark::depth_difference, pass.depth_difference, most(mine, [&](std::size_t b) {
            return std::optional(std::abs(metrics[b].depth_fraction_graft - metrics[b].depth_fraction_host));
        }));
    ask(marks, Mark::shortest_bite, pass.least_bite_mm,
        least(mine, [&](std::size_t b) { return std::min(bites[b].graft_bite_mm, bites[b].host_bite_mm); }));
    ask(marks, Mark::longest_bite, pass.most_bite_mm, most(mine, [&](std::size_t b) {
            return std::optional(std::max(bites[b].graft_bite_mm, bites[b].host_bite_mm));
        }));
    ask(marks, Mark::off_radius, pass.radial_error_deg,
        most(mine, [&](std::size_t b) { return std::optional(std::abs(metrics[b].radial_error_deg)); }));
    ask(marks, Mark::off_mark, pass.spacing_error_deg,
        most(mine, [&](std::size_t b) { return std::optional(std::abs(metrics[b].spacing_error_deg)); }));
    ask(marks, Mark::off_opposite, pass.opposite_error_deg,
        most(mine, [&](std::size_t b) { return opposite_error_deg(bites, b); }));
    if (attempt.bites.size() > 1)
        ask(marks, Mark::tension_range, pass.tension_range, locked_tension_range(attempt.bites));
    ask(marks, Mark::harms, pass.trauma_count, static_cast<double>(harms(attempt)));
    return marks;
}

}  // namespace graftwright
