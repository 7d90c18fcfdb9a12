// Random closures far wider than any hand: each must find its balance or say why not, with no number
// that is not one.
//
//   graftwright_fuzz [COUNT [SEED [runs]]]     defaults 200, 1. Exit 1 on a NaN or an unnamed failure.
// Depths 10–99 %, tensions 0–200 mN, bites 0.3–2.5 mm, 3–32 bites, one in eight on top of another,
// ovality to 1 mm on both sides, pressures 0–80 mmHg, thicknesses 400–900 µm, moduli 0.3–1.5 MPa.
// With `runs` some or all of those bites are moved into one to three running threads, laid by angle or in any order,
// friction 0–0.4 or none, worked round at 0–200 mN or not.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <random>
#include <string>

#include "leak/wound_test.h"
#include "score/measured_closure.h"

namespace graftwright {
namespace {

struct Draw {
    std::mt19937_64 engine;

    double between(double low, double high) {
        // 53 random bits: the same on every standard library.
        return low + (high - low) * static_cast<double>(engine() >> 11U) * 0x1.0p-53;
    }
    int whole(int low, int high) { return low + static_cast<int>(between(0.0, high - low + 0.999999)); }
};

Scenario random_scenario(Draw& draw) {
    Scenario scenario;
    Eye& eye = scenario.eye;
    eye.bed_diameter_mm = draw.between(6.5, 8.5);
    eye.bed_ovality_mm = draw.between(0.0, 1.0);
    eye.bed_ovality_axis_deg = draw.between(0.0, 180.0);
    eye.rim_thickness_um = draw.between(400.0, 900.0);
    eye.modulus_kPa = draw.between(300.0, 1500.0);
    eye.pressure_mmHg = draw.between(0.0, 80.0);
    scenario.graft.diameter_mm = eye.bed_diameter_mm + draw.between(-0.3, 0.6);
    scenario.graft.ovality_mm = draw.between(0.0, 1.0);
    scenario.graft.ovality_axis_deg = draw.between(0.0, 180.0);
    scenario.graft.thickness_um = draw.between(400.0, 900.0);
    scenario.graft.modulus_kPa = draw.between(300.0, 1500.0);
    return scenario;
}

std::vector<Bite> random_bites(const Scenario& scenario, Draw& draw) {
    std::vector<Bite> bites(static_cast<std::size_t>(draw.whole(3, 32)));
    for (std::size_t b = 0; b < bites.size(); ++b) {
        Bite& bite = bites[b];
        bite.host_deg = draw.between(0.0, 360.0);
        if (b > 0 && draw.whole(0, 7) == 0) bite.host_deg = bites[b - 1].host_deg;
        bite.graft_deg = bite.host_deg + draw.between(-12.0, 12.0);
        bite.graft_skew_mm = draw.between(-0.4, 0.4);
        bite.host_skew_mm = draw.between(-0.4, 0.4);
        bite.graft_bite_mm = draw.between(0.3, 2.5);
        bite.host_bite_mm = draw.between(0.3, 2.5);
        bite.graft_depth_um = draw.between(0.10, 0.99) * scenario.graft.thickness_um;
        bite.host_depth_um = draw.between(0.10, 0.99) * scenario.eye.rim_thickness_um;
        bite.graft_entry_deg = draw.between(20.0, 90.0);
        bite.host_exit_deg = draw.between(20.0, 90.0);
        bite.tension_mN = draw.between(0.0, 200.0);
    }
    return bites;
}

// Takes bites off the end of `bites`.
std::vector<Run> random_runs(std::vector<Bite>& bites, Draw& draw) {
    std::vector<Run> runs(static_cast<std::size_t>(draw.whole(1, 3)));
    for (Run& run : runs) {
        for (int n = draw.whole(1, 20); n > 0 && !bites.empty(); --n) {
            run.bites.push_back({static_cast<const BitePath&>(bites.back())});
            bites.pop_back();
        }
        if (draw.whole(0, 3) > 0)
            std::sort(run.bites.begin(), run.bites.end(),
                      [](const RunBite& a, const RunBite& b) { return a.host_deg < b.host_deg; });
        run.friction = draw.whole(0, 3) == 0 ? 0.0 : draw.between(0.0, 0.4);
        run.tension_mN = draw.between(0.0, 200.0);
        if (draw.whole(0, 1) == 0) run.worked_mN = draw.between(0.0, 200.0);
    }
    runs.erase(std::remove_if(runs.begin(), runs.end(), [](const Run& run) { return run.bites.empty(); }), runs.end());
    return runs;
}

struct Tally {
    int converged = 0, restless = 0, worst_newton = 0, worst_inner = 0;
    long newton = 0, inner = 0, limited = 0, curved = 0;
    double worst_residual = 0.0, worst_seconds = 0.0;
    std::map<std::string, int> reasons;
    int unnamed = 0, not_numbers = 0;
};

void close_one(unsigned long seed, bool with_runs, Tally& tally) {
    Draw draw{std::mt19937_64(seed)};
    const Scenario scenario = random_scenario(draw);
    std::vector<Bite> bites = random_bites(scenario, draw);
    const std::vector<Run> runs = with_runs ? random_runs(bites, draw) : std::vector<Run>();
    const auto start = std::chrono::steady_clock::now();
    const ScenarioModel model(scenario);
    const PreparedClosure prepared(model, plan_closure(model, bites, runs));
    Closure closure = prepared.closure();
    const bool ok = closure.tie(prepared.bites, prepared.runs) &&
                    closure.fill_in_steps(mpa_from_mmhg(scenario.eye.pressure_mmHg)) && closure.at_rest();
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    const ClosureStatus& status = closure.status();
    tally.newton += status.iterations;
    tally.inner += status.inner_iterations;
    tally.limited += status.inner_limited;
    tally.curved += status.inner_curved;
    tally.restless += ok && !status.settled;
    tally.worst_newton = std::max(tally.worst_newton, status.most_iterations);
    tally.worst_inner = std::max(tally.worst_inner, status.inner_iterations);
    tally.worst_seconds = std::max(tally.worst_seconds, seconds);
    const bool numbers =
        closure.state().edges.allFinite() && closure.state().tension.allFinite() && std::isfinite(status.residual);
    if (!numbers) ++tally.not_numbers;
    if (ok) {
        ++tally.converged;
        tally.worst_residual = std::max(tally.worst_residual, status.residual);
    } else if (status.reason.empty()) {
        ++tally.unnamed;
    } else {
        ++tally.reasons[status.reason];
        std::printf("seed %lu: %s (residual %.1e)\n", seed, status.reason.c_str(), status.residual);
    }
    if (!numbers) std::printf("seed %lu: not a number\n", seed);
}

}  // namespace
}  // namespace graftwright

int main(int argc, char** argv) {
    const long count = argc > 1 ? std::atol(argv[1]) : 200;
    const unsigned long first = argc > 2 ? std::strtoul(argv[2], nullptr, 10) : 1;
    const bool with_runs = argc > 3 && std::string(argv[3]) == "runs";
    graftwright::Tally tally;
    for (long i = 0; i < count; ++i) graftwright::close_one(first + static_cast<unsigned long>(i), with_runs, tally);
    int failed = 0;
    for (const auto& [reason, times] : tally.reasons) failed += times;
    std::printf("%ld closures: %d in balance, %d with a named reason, %d without one, %d not numbers\n", count,
                tally.converged, failed, tally.unnamed, tally.not_numbers);
    std::printf(
        "largest relative residual %.1e; Newton steps %ld, most in one solve %d; CG products %ld, most in one "
        "closure %d; longest %.2f s\n",
        tally.worst_residual, tally.newton, tally.worst_newton, tally.inner, tally.worst_inner, tally.worst_seconds);
    std::printf(
        "Newton steps that conjugate gradients left at their limit %ld, where the energy does not curve %ld; in "
        "balance with a friction or fluid that is not quite at rest %d\n",
        tally.limited, tally.curved, tally.restless);
    return tally.unnamed > 0 || tally.not_numbers > 0 || tally.worst_residual > 1e-8 ? 1 : 0;
}
