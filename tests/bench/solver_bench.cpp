// The interactive solver against its goals and against the dense one, in one run.
//
// Sixteen bites tied to 15 mN, M = 64, 256 points, one core. "warm": one bite drawn anew with 5 % more or
// less tension at 15 mmHg, all lagged passes (friction, fluid) included; median and 99th percentile over
// 300 re-solves, in process time, so that what else the machine does is left out. "cold": bites planned, put together
// and brought into balance from nothing, tensions prescribed, scenario already condensed. Scaling: cold solves against
// bites and harmonics.
#include <algorithm>
#include <chrono>
#include <ctime>
#include <type_traits>

#include <benchmark/benchmark.h>

#include "../scenes/dense_solver.h"
#include "closure/newton_solver.h"
#include "score/measured_closure.h"

namespace graftwright {
namespace {

constexpr double kTension = 15e-3;  // N

std::vector<Bite> ring_of(int count) {
    std::vector<Bite> bites(static_cast<std::size_t>(count));
    for (int b = 0; b < count; ++b) {
        // Opposite, then across, then between: bit-reversed order for powers of two.
        int slot = 0;
        for (int bit = 1, half = count / 2; bit < count; bit *= 2, half /= 2) slot += (b & bit) != 0 ? half : 0;
        Bite& bite = bites[static_cast<std::size_t>(b)];
        bite.graft_deg = bite.host_deg = 360.0 * slot / count;
        bite.graft_depth_um = 500;
        bite.host_depth_um = 560;
    }
    return bites;
}

struct Setting {
    explicit Setting(int bites, int harmonics = 64)
        : model(Scenario{}, options(harmonics)),
          system(model.wound(), loads(bites)),
          interface(model.wound(), model.interface_constants(),
                    interference(model.scenario(), 0.0, model.wound().points())) {}

    static WoundModelOptions options(int harmonics) {
        WoundModelOptions result;
        result.harmonics = harmonics;
        result.points = 4 * harmonics;
        return result;
    }
    [[nodiscard]] std::vector<std::shared_ptr<const ThreadLoads>> loads(int count) const {
        std::vector<BiteGeometry> bites;
        for (const Bite& bite : ring_of(count)) bites.push_back(bite_geometry(bite, 0.0));
        return make_bite_loads(model.wound(), bites);
    }
    template <typename Solver>
    [[nodiscard]] Closure closure() const {
        return {system, interface, model.thread_EA(), std::make_unique<Solver>(system, interface)};
    }

    ScenarioModel model;
    ClosureSystem system;
    WoundInterface interface;
};

// One Fourier transform of all jumps to the points of the ring and back.
void round_trip(RingTransform& transform, RingMatrix& series, PointJumps& values) {
    transform.to_points(series, values);
    transform.to_harmonics(values, 1.0, series);
    series *= 1.0 / static_cast<double>(values.cols());
}

// Least of several runs, in ms.
double round_trip_ms() {
    RingTransform transform(64, 256);
    RingMatrix series = RingMatrix::Random(kRingUnknowns, 129);
    PointJumps values(kRingUnknowns, 256);
    double least = 1.0;
    for (int run = 0; run < 20; ++run) {
        const auto start = std::chrono::steady_clock::now();
        for (int i = 0; i < 100; ++i) round_trip(transform, series, values);
        least = std::min(least, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count() / 100);
    }
    benchmark::DoNotOptimize(series.data());
    return 1e3 * least;
}

template <typename Solver>
void warm_resolve(benchmark::State& state) {
    const Setting setting(16);
    Closure closure = setting.closure<Solver>();
    if (!closure.tie(std::vector<KnotPlan>(16, {kTension, false})) || !closure.fill_in_steps(mpa_from_mmhg(15.0))) {
        state.SkipWithError("no balance");
        return;
    }
    std::vector<double> times;
    std::size_t bite = 0;
    const int newton = closure.status().iterations, inner = closure.status().inner_iterations;
    for (auto _ : state) {
        const double tension = closure.state().tension[static_cast<Eigen::Index>(bite)];
        const std::clock_t start = std::clock();
        benchmark::DoNotOptimize(closure.redraw(bite, tension * (times.size() % 2 == 0 ? 1.05 : 0.95)));
        const double seconds = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
        state.SetIterationTime(seconds);
        times.push_back(1e3 * seconds);
        bite = (bite + 5) % 16;
    }
    std::sort(times.begin(), times.end());
    const double count = static_cast<double>(times.size());
    state.counters["min_ms"] = times.front();
    state.counters["median_ms"] = times[times.size() / 2];
    state.counters["p99_ms"] = times[std::min(times.size() - 1, times.size() * 99 / 100)];
    state.counters["newton"] = (closure.status().iterations - newton) / count;
    state.counters["products"] = (closure.status().inner_iterations - inner) / count;
    // What no solver with these iterations gets below: a round trip for each product and each Newton step.
    if (std::is_same_v<Solver, NewtonSolver>) {
        const double trips = (closure.status().iterations - newton + closure.status().inner_iterations - inner) / count;
        state.counters["transforms_ms"] = trips * round_trip_ms();
    }
}
BENCHMARK_TEMPLATE(warm_resolve, NewtonSolver)->Unit(benchmark::kMillisecond)->UseManualTime()->Iterations(300);
BENCHMARK_TEMPLATE(warm_resolve, DenseSolver)->Unit(benchmark::kMillisecond)->UseManualTime()->Iterations(40);

template <typename Solver>
void solve_from_nothing(benchmark::State& state, const Setting& setting, std::size_t bites) {
    ClosureStatus status;
    for (auto _ : state) {
        Closure closure = setting.closure<Solver>();
        benchmark::DoNotOptimize(closure.prescribe(std::vector<double>(bites, kTension), mpa_from_mmhg(15.0)));
        status = closure.status();
    }
    state.counters["newton"] = status.iterations;
    state.counters["products"] = status.inner_iterations;
}

template <typename Solver>
void cold_solve(benchmark::State& state) {
    const Setting setting(16);
    solve_from_nothing<Solver>(state, setting, 16);
}
BENCHMARK_TEMPLATE(cold_solve, NewtonSolver)->Unit(benchmark::kMillisecond);
BENCHMARK_TEMPLATE(cold_solve, DenseSolver)->Unit(benchmark::kMillisecond);

void cold_closure_with_planning(benchmark::State& state) {
    const Setting setting(16);
    for (auto _ : state) {
        const ClosureSystem system(setting.model.wound(), setting.loads(16));
        Closure closure(system, setting.interface, setting.model.thread_EA());
        benchmark::DoNotOptimize(closure.prescribe(std::vector<double>(16, kTension), mpa_from_mmhg(15.0)));
    }
}
BENCHMARK(cold_closure_with_planning)->Unit(benchmark::kMillisecond);

void scaling_with_bites(benchmark::State& state) {
    const Setting setting(static_cast<int>(state.range(0)));
    solve_from_nothing<NewtonSolver>(state, setting, static_cast<std::size_t>(state.range(0)));
}
BENCHMARK(scaling_with_bites)->ArgName("bites")->RangeMultiplier(2)->Range(4, 32)->Unit(benchmark::kMillisecond);

void scaling_with_harmonics(benchmark::State& state) {
    const Setting setting(16, static_cast<int>(state.range(0)));
    solve_from_nothing<NewtonSolver>(state, setting, 16);
}
BENCHMARK(scaling_with_harmonics)->ArgName("M")->RangeMultiplier(2)->Range(32, 128)->Unit(benchmark::kMillisecond);

// Simulated hands: plan, tie, fill, read, leak-test; no shares. One thread; two cores do twice as many.
void simulated_hand(benchmark::State& state) {
    const ScenarioModel model{Scenario{}};
    const std::vector<Bite> bites = ring_of(16);
    for (auto _ : state) {
        benchmark::DoNotOptimize(measure_closure(model, plan_closure(model, bites, {}, 0.0)));
    }
    state.counters["hands"] = benchmark::Counter(static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}
BENCHMARK(simulated_hand)->Unit(benchmark::kMillisecond);

void ring_transform_round_trip(benchmark::State& state) {
    RingTransform transform(64, 256);
    RingMatrix series = RingMatrix::Random(kRingUnknowns, 129);
    PointJumps values(kRingUnknowns, 256);
    for (auto _ : state) round_trip(transform, series, values);
}
BENCHMARK(ring_transform_round_trip)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace graftwright
