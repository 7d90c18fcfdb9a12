// What a score costs, part by part: condensing a scenario, planning bites, one closure, a full score; and
// what is made of it: rings, report, picture.
//
//   cmake --preset bench && cmake --build --preset bench && build/bench/bin/graftwright_bench
// One thread unless the name says otherwise. Figures are for reading, never asserted.
#include <algorithm>
#include <benchmark/benchmark.h>

#include "optics/ring_reflection.h"
#include "report/report_html.h"
#include "report/single_picture.h"
#include "score/ideal_twin.h"
#include "score/scorecard.h"

namespace graftwright {
namespace {

// Cardinals first, then halving: the order a surgeon ties in.
std::vector<Bite> even_bites(int count) {
    std::vector<Bite> bites;
    const auto add = [&](double deg) {
        Bite bite;
        bite.graft_deg = bite.host_deg = deg;
        bite.graft_depth_um = 500;
        bite.host_depth_um = 560;
        bites.push_back(bite);
    };
    for (const double deg : {90.0, 270.0, 0.0, 180.0}) add(deg);
    for (int pieces = 8; static_cast<int>(bites.size()) < count; pieces *= 2) {
        for (int k = 1; k < pieces && static_cast<int>(bites.size()) < count; k += 2) add(360.0 * k / pieces);
    }
    return bites;
}

void condense_scenario(benchmark::State& state) {
    for (auto _ : state) {
        const ScenarioModel model{Scenario{}};
        benchmark::DoNotOptimize(model.wound().columns());
    }
}
BENCHMARK(condense_scenario)->Unit(benchmark::kMillisecond);

void plan_one_bite(benchmark::State& state) {
    const ScenarioModel model{Scenario{}};
    const Bite bite = even_bites(4).front();
    for (auto _ : state) benchmark::DoNotOptimize(plan_bite(model, bite, 0.0));
}
BENCHMARK(plan_one_bite)->Unit(benchmark::kMillisecond);

// Tying in order, filling, optics; no leak test. Argument: number of bites.
void close_and_read(benchmark::State& state) {
    const ScenarioModel model{Scenario{}};
    const auto plan = plan_closure(model, even_bites(static_cast<int>(state.range(0))), {}, 0.0);
    MeasureOptions options;
    options.leak = false;
    int iterations = 0;
    for (auto _ : state) iterations = measure_closure(model, plan, options).status.iterations;
    state.counters["newton"] = iterations;
}
BENCHMARK(close_and_read)->Arg(4)->Arg(8)->Arg(16)->Arg(32)->Unit(benchmark::kMillisecond);

void close_read_and_leak(benchmark::State& state) {
    const ScenarioModel model{Scenario{}};
    const auto plan = plan_closure(model, even_bites(16), {}, 0.0);
    int iterations = 0;
    for (auto _ : state) iterations = measure_closure(model, plan).status.iterations;
    state.counters["newton"] = iterations;
}
BENCHMARK(close_read_and_leak)->Unit(benchmark::kMillisecond);

// The command's work on two threads: attempt and ideal, without and with sixteen shares.
void full_score(benchmark::State& state) {
    const ScenarioModel model{Scenario{}};
    Attempt attempt;
    attempt.bites = even_bites(16);
    attempt.bites[1].host_deg += 5.0;
    ScoreOptions options;
    options.shares = state.range(0) != 0;
    for (auto _ : state) benchmark::DoNotOptimize(score_attempt(model, attempt, options));
}
BENCHMARK(full_score)->ArgName("shares")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond)->UseRealTime();

// The same of a running thread of sixteen bites, one of them long; friction lets it slide while the chamber fills.
void full_score_of_a_run(benchmark::State& state) {
    const ScenarioModel model{Scenario{}};
    Attempt attempt;
    attempt.runs.resize(1);
    for (const Bite& bite : even_bites(16)) attempt.runs[0].bites.push_back({static_cast<const BitePath&>(bite)});
    std::sort(attempt.runs[0].bites.begin(), attempt.runs[0].bites.end(),
              [](const RunBite& a, const RunBite& b) { return a.host_deg < b.host_deg; });
    attempt.runs[0].bites[3].graft_bite_mm = 1.5;
    attempt.runs[0].worked_mN = 0.0;
    attempt.runs[0].friction = 0.03;
    ScoreOptions options;
    options.shares = state.range(0) != 0;
    for (auto _ : state) benchmark::DoNotOptimize(score_attempt(model, attempt, options));
}
BENCHMARK(full_score_of_a_run)->ArgName("shares")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond)->UseRealTime();

// A second cardinal bite off its mark, scored once for the pictures below.
const Scorecard& scored() {
    static const Scorecard card = [] {
        Attempt attempt;
        attempt.bites = even_bites(16);
        attempt.bites[1].host_deg += 11.0;
        return score_attempt(ScenarioModel{Scenario{}}, attempt);
    }();
    return card;
}

// Ten rings of 96 angles on the deformed front: the game does it while a thread is pulled.
void mirror_ten_rings(benchmark::State& state) {
    const Keratoscope keratoscope = standard_keratoscope();
    const AnteriorSurface& front = *scored().attempt.front;
    for (auto _ : state) benchmark::DoNotOptimize(mirror_rings(front, keratoscope, 96));
}
BENCHMARK(mirror_ten_rings)->Unit(benchmark::kMillisecond);

// What `--report` (0) and `--png` (1) take beyond the score.
void write_report(benchmark::State& state) {
    const Scenario scenario;
    Attempt attempt;
    attempt.bites = even_bites(16);
    attempt.bites[1].host_deg += 11.0;
    const Case what{scenario, attempt, scored(), {}};
    std::size_t bytes = 0;
    for (auto _ : state) {
        bytes = (state.range(0) == 0 ? report_html(what) : picture_png(what, PictureKind::overview)).size();
    }
    state.counters["kB"] = static_cast<double>(bytes) / 1000.0;
}
BENCHMARK(write_report)->ArgName("png")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace graftwright
