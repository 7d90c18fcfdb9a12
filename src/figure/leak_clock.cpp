#include "figure/leak_clock.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "score/bites_in_order.h"

namespace graftwright {
namespace {

constexpr double kLeastFull_mmHg = 25.0, kMostFull_mmHg = 1600.0;
constexpr int kPieces = 16;  // of a slant

}  // namespace

double LeakClock::share(double mmHg) const { return std::sqrt(std::clamp(mmHg / full_mmHg, 0.0, 1.0)); }

std::optional<LeakClock> leak_clock(const Scenario& scenario, const ClosureMeasures& measures) {
    if (!measures.status.converged || measures.profile.empty()) return std::nullopt;
    LeakClock clock;
    clock.seal = measures.profile;
    clock.test = measures.wound;
    clock.eye_mmHg = scenario.eye.pressure_mmHg;
    clock.asked_mmHg = scenario.pass.leak_pressure_mmHg;
    double most_mmHg = std::max(clock.eye_mmHg, clock.asked_mmHg.value_or(0.0));
    for (const SealPlace& place : clock.seal) most_mmHg = std::max(most_mmHg, place.seal_mmHg);
    clock.full_mmHg = kLeastFull_mmHg;
    while (clock.full_mmHg < std::min(most_mmHg, kMostFull_mmHg)) clock.full_mmHg *= 2.0;
    return clock;
}

void mark_bites(LeakClock& clock, const Attempt& attempt) {
    const std::vector<OrderedBite> bites = bites_in_order(attempt);
    for (std::size_t b = 0; b < bites.size(); ++b) {
        if (!bites[b].removed) clock.bites.push_back({b, bites[b].host_deg, bites[b].run.has_value()});
    }
    for (const RunSpan& span : run_spans(attempt.bites.size(), attempt.runs)) {
        clock.spans.push_back({bites[span.from].host_deg, bites[span.to].host_deg, span.run, span.knot});
    }
}

std::vector<SlantPoint> slant(const LeakClock::Span& span) {
    const double turn_deg = turn_between_deg(span.from_deg, span.to_deg);
    std::vector<SlantPoint> way;
    for (int i = 0; i <= kPieces; ++i) {
        const double along = static_cast<double>(i) / kPieces;
        way.push_back({span.from_deg + turn_deg * along, along});
    }
    return way;
}

}  // namespace graftwright
