#include "game/tying.h"

#include <algorithm>

namespace graftwright {
namespace {

double cut_limit_of(const Scenario& scenario, const BitePath& bite) {
    const double depth =
        std::min(bite.graft_depth_um / scenario.graft.thickness_um, bite.host_depth_um / scenario.eye.rim_thickness_um);
    const double modulus = std::min(scenario.graft.modulus_kPa, scenario.eye.modulus_kPa);
    return cut_limit_mN(std::min(bite.graft_bite_mm, bite.host_bite_mm), depth, modulus);
}

// The bite that gives way first.
std::size_t weakest(const Scenario& scenario, const std::vector<RunBite>& run) {
    const auto found = std::min_element(run.begin(), run.end(), [&](const RunBite& a, const RunBite& b) {
        return cut_limit_of(scenario, a) < cut_limit_of(scenario, b);
    });
    return static_cast<std::size_t>(found - run.begin());
}

KnotLimits limits_of(const Scenario& scenario, const BitePath& bite) {
    return {scenario.thread.break_mN, cut_limit_of(scenario, bite), std::min(bite.graft_bite_mm, bite.host_bite_mm)};
}

}  // namespace

Tying::Tying(const Scenario& scenario, const Bite& single)
    : bite(single), limits(limits_of(scenario, single)), knot(limits) {}

Tying::Tying(const Scenario& scenario, const std::vector<RunBite>& open_run)
    : run(Run{}), limits(limits_of(scenario, open_run[weakest(scenario, open_run)])), knot(limits) {
    run->bites = open_run;
    run->tension_mN = 0.0;
    run->worked_mN = 0.0;
}

void shorten(BitePath& bite, double cut_mm) {
    double& weaker = bite.graft_bite_mm < bite.host_bite_mm ? bite.graft_bite_mm : bite.host_bite_mm;
    weaker = std::max(0.2, weaker - cut_mm);
}

void shorten_weakest(const Scenario& scenario, std::vector<RunBite>& run, double cut_mm) {
    shorten(run[weakest(scenario, run)], cut_mm);
}

}  // namespace graftwright
