#include "score/measured_closure.h"

#include <algorithm>
#include <cmath>

#include "optics/deformed_donor.h"
#include "optics/zernike.h"

namespace graftwright {
namespace {

// The foundation stands for nothing in an eye: where it carries more than this share of the chamber's
// thrust, or the donor's edge has left the bed by more than this (mm), the bites do not hold the donor.
constexpr double kLargestFoundationShare = 0.02;
constexpr double kLargestEdgeShift = 1.0;

bool donor_is_held(const Closure& closure) {
    if (closure.foundation_share() > kLargestFoundationShare) return false;
    const PointJumps jumps = closure.interface().at_points(closure.state().jump);
    return jumps.row(2).cwiseAbs().maxCoeff() <= kLargestEdgeShift;
}

bool draw_like_the_others(Closure& closure, std::size_t bite) {
    std::vector<double> others;
    const ClosureState& state = closure.state();
    for (std::size_t b = 0; b < state.knots.size(); ++b)
        if (b != bite && state.knots[b].hold != Hold::open)
            others.push_back(state.tension[static_cast<Eigen::Index>(b)]);
    return closure.redraw(bite, median(std::move(others)));
}

}  // namespace

PlannedBite plan_bite(const ScenarioModel& model, const Bite& bite, double donor_turn) {
    return plan_bites(model, {bite}, donor_turn).front();
}

std::vector<PlannedBite> plan_bites(const ScenarioModel& model, const std::vector<Bite>& bites, double donor_turn) {
    std::vector<BiteGeometry> geometries;
    for (const Bite& bite : bites) geometries.push_back(bite_geometry(bite, donor_turn));
    const auto loads = make_bite_loads(model.wound(), geometries);
    std::vector<PlannedBite> planned;
    for (std::size_t b = 0; b < bites.size(); ++b) planned.push_back({bites[b], loads[b]});
    return planned;
}

ClosureMeasures measure_closure(const ScenarioModel& model, const std::vector<PlannedBite>& bites, double donor_turn,
                                const MeasureOptions& options) {
    ClosureMeasures result;
    std::vector<std::shared_ptr<const BiteLoads>> loads;
    std::vector<KnotPlan> plan;
    std::vector<const ThreadPath*> paths;
    for (const PlannedBite& bite : bites) {
        loads.push_back(bite.loads);
        plan.push_back({newton_from_mn(bite.bite.tension_mN), bite.bite.removed,
                        static_cast<std::size_t>(bite.bite.removed_after)});
        paths.push_back(&bite.loads->path);
    }
    const ClosureSystem system(model.wound(), std::move(loads));
    const WoundInterface interface(model.wound(), model.interface_constants(),
                                   interference(model.scenario(), donor_turn, model.wound().points()));
    Closure closure(system, interface, model.thread_EA());
    const double pressure_mmHg = model.scenario().eye.pressure_mmHg;

    bool ok = closure.tie(plan);
    const ClosureState tied = closure.state();
    ok = ok && fill_in_steps(closure, mpa_from_mmhg(pressure_mmHg));
    ok = ok && (!options.redraw || draw_like_the_others(closure, *options.redraw));
    result.status = closure.status();
    if (ok && !donor_is_held(closure)) {
        ok = false;
        result.status.converged = false;
        result.status.reason = "the bites do not hold the donor in its bed against the chamber's pressure";
    }
    if (!ok) return result;

    const ClosureState& filled = closure.state();
    result.front = std::make_shared<const DeformedDonor>(
        model.wound(),
        model.wound().donor_displacement(filled.pressure, filled.jump, paths, filled.tension, kOpticalHarmonics),
        model.pupil());
    result.keratometry = read_keratometry(*result.front);
    if (options.irregularity) result.hoa_rms_um = irregularity_rms_um(*result.front);
    for (Eigen::Index b = 0; b < filled.tension.size(); ++b)
        result.tension_mN.push_back(mn_from_newton(filled.tension[b]));
    result.profile = seal_profile(closure);
    if (options.leak) {
        closure.restore(tied);
        const bool tested = test_wound(closure, pressure_mmHg, result.wound);
        result.status = closure.status();
        if (!tested) {
            ClosureMeasures none;
            none.status = result.status;
            return none;
        }
    }
    return result;
}

}  // namespace graftwright
