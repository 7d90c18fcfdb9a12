#include "score/measured_closure.h"

#include <algorithm>
#include <cmath>

#include "base/statistics.h"
#include "base/units.h"
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
    const PointJumps jumps = closure.interface().at_points(closure.state().jump());
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

PlannedRun plan_run(const ScenarioModel& model, const Run& run, double donor_turn) {
    std::vector<std::pair<BiteGeometry, BiteGeometry>> ends;
    for (std::size_t k = 0; k < run.bites.size(); ++k) {
        ends.emplace_back(bite_geometry(run.bites[k], donor_turn),
                          bite_geometry(run.bites[(k + 1) % run.bites.size()], donor_turn));
    }
    return {run, make_span_loads(model.wound(), ends), false};
}

PlannedClosure plan_closure(const ScenarioModel& model, const std::vector<Bite>& bites, const std::vector<Run>& runs,
                            double donor_turn) {
    PlannedClosure plan{plan_bites(model, bites, donor_turn), {}, donor_turn};
    for (const Run& run : runs) plan.runs.push_back(plan_run(model, run, donor_turn));
    return plan;
}

std::vector<PlannedRun> plan_swaps(const ScenarioModel& model, const PlannedRun& run, const std::vector<RunBite>& twins,
                                   double donor_turn) {
    const std::size_t n = run.run.bites.size();
    std::vector<std::pair<BiteGeometry, BiteGeometry>> ends;  // into each twin, and out of it
    const auto geometry = [&](std::size_t k) { return bite_geometry(run.run.bites[k % n], donor_turn); };
    for (std::size_t k = 0; k < n; ++k) {
        const BiteGeometry twin = bite_geometry(twins[k], donor_turn);
        ends.emplace_back(n > 1 ? geometry(k + n - 1) : twin, twin);
        ends.emplace_back(twin, n > 1 ? geometry(k + 1) : twin);
    }
    const auto loads = make_span_loads(model.wound(), ends);
    std::vector<PlannedRun> swaps(n, run);
    for (std::size_t k = 0; k < n; ++k) {
        swaps[k].run.bites[k] = twins[k];
        swaps[k].spans[(k + n - 1) % n] = loads[2 * k];
        swaps[k].spans[k] = loads[2 * k + 1];
    }
    return swaps;
}

namespace {

ClosureSystem system_of(const ScenarioModel& model, const PlannedClosure& plan) {
    std::vector<std::shared_ptr<const ThreadLoads>> threads;
    std::vector<RunOfSpans> runs;
    for (const PlannedBite& bite : plan.bites) threads.push_back(bite.loads);
    for (const PlannedRun& run : plan.runs) {
        runs.push_back({threads.size(), run.spans.size(), run.run.friction});
        threads.insert(threads.end(), run.spans.begin(), run.spans.end());
    }
    return {model.wound(), std::move(threads), std::move(runs)};
}

}  // namespace

PreparedClosure::PreparedClosure(const ScenarioModel& model, const PlannedClosure& plan)
    : system(system_of(model, plan)),
      interface(model.wound(), model.interface_constants(),
                graftwright::interference(model.scenario(), plan.donor_turn, model.wound().points())),
      donor_turn(plan.donor_turn),
      thread_EA_(model.thread_EA()) {
    for (const PlannedBite& one : plan.bites)
        bites.push_back(
            {newton_from_mn(one.bite.tension_mN), one.bite.removed, static_cast<std::size_t>(one.bite.removed_after)});
    for (const PlannedRun& one : plan.runs)
        runs.push_back({newton_from_mn(one.run.tension_mN),
                        newton_from_mn(one.run.worked_mN.value_or(one.run.tension_mN)), one.even});
}

std::vector<const ThreadPath*> PreparedClosure::paths() const {
    std::vector<const ThreadPath*> paths;
    for (const auto& thread : system.threads()) paths.push_back(&thread->path);
    return paths;
}

void read_tensions(const ClosureSystem& system, const Eigen::VectorXd& tension, std::vector<double>& by_bite_mN,
                   std::vector<std::vector<double>>& by_span_mN) {
    const auto mN = [&](std::size_t thread) { return mn_from_newton(tension[static_cast<Eigen::Index>(thread)]); };
    for (std::size_t b = 0; b < system.single_count(); ++b) by_bite_mN.push_back(mN(b));
    for (const RunOfSpans& run : system.runs()) {
        by_span_mN.emplace_back();
        for (std::size_t k = 0; k < run.count; ++k) {
            by_bite_mN.push_back(0.5 * (mN(run.before(k)) + mN(run.span(k))));
            by_span_mN.back().push_back(mN(run.span(k)));
        }
    }
}

ClosureMeasures measure_closure(const ScenarioModel& model, const PlannedClosure& plan, const MeasureOptions& options) {
    ClosureMeasures result;
    const PreparedClosure prepared(model, plan);
    Closure closure = prepared.closure();
    const double pressure_mmHg = model.scenario().eye.pressure_mmHg;

    bool ok = closure.tie(prepared.bites, prepared.runs);
    const ClosureState tied = closure.state();
    ok = ok && closure.fill_in_steps(mpa_from_mmhg(pressure_mmHg)) && closure.at_rest();
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
        model.wound().donor_displacement(filled.pressure, filled.donor_edge(), prepared.paths(), filled.tension,
                                         kOpticalHarmonics),
        model.pupil());
    result.keratometry = read_keratometry(*result.front);
    if (options.irregularity) result.hoa_rms_um = irregularity_rms_um(*result.front);
    read_tensions(prepared.system, filled.tension, result.tension_mN, result.span_mN);
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
