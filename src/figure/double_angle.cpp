#include "figure/double_angle.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/units.h"
#include "figure/words.h"

namespace graftwright {
namespace {

// Round, and four of them not much more than what has to lie on the paper.
double step_for(double most_D) {
    for (const double step_D : {0.1, 0.2, 0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 7.5, 10.0}) {
        if (most_D <= DoubleAngle::kRings * step_D) return step_D;
    }
    return most_D / DoubleAngle::kRings;
}

}  // namespace

Point DoubleAngle::left_over() const {
    const Point without_shares = ideal.value_or(Point{});
    return minus(minus(attempt, without_shares), sum);
}

Point double_angle_arrow(const PowerVector& power) { return {2.0 * power.J0_D, 2.0 * power.J45_D}; }

std::string cylinder_words(Point arrow) {
    return fmt::format("{:.1f} D @ {}", norm(arrow), whole_axis_deg(deg_from_rad(std::atan2(arrow.y, arrow.x)) / 2.0));
}

std::optional<DoubleAngle> double_angle(const Scorecard& card, SumOfShares sum) {
    if (!card.converged()) return std::nullopt;
    DoubleAngle plot;
    for (std::size_t b = 0; b < card.shares.size(); ++b) {
        if (!card.shares[b]) continue;
        plot.arrows.push_back({b, double_angle_arrow(card.shares[b]->delta), card.shares[b]->share_D});
        plot.sum = plus(plot.sum, plot.arrows.back().tip);
    }
    if (plot.arrows.empty()) return std::nullopt;
    std::sort(plot.arrows.begin(), plot.arrows.end(), [](const auto& a, const auto& b) { return a.size_D > b.size_D; });
    plot.attempt = double_angle_arrow(card.attempt.keratometry->power);
    double most_D = std::max(card.attempt.keratometry->cylinder_D, plot.arrows.front().size_D);
    if (card.ideal) {
        plot.ideal = double_angle_arrow(card.ideal->keratometry->power);
        most_D = std::max(most_D, card.ideal->keratometry->cylinder_D);
    }
    if (sum == SumOfShares::drawn) most_D = std::max(most_D, norm(plus(plot.ideal.value_or(Point{}), plot.sum)));
    plot.step_D = step_for(most_D);
    plot.full_D = DoubleAngle::kRings * plot.step_D;
    return plot;
}

}  // namespace graftwright
