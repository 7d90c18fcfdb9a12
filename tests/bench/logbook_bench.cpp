// A logbook of 100,000 attempts in a file: opening a trainee's page (0.3 s at most), adding one (20 ms at most).
//
// Two shapes of the same size: 100 trainees with 1000 attempts each, and one trainee with all of them.
#include <cstdlib>
#include <filesystem>
#include <map>
#include <memory>
#include <stdexcept>

#include <benchmark/benchmark.h>

#include "../logbook/made_entries.h"
#include "logbook/logbook.h"

using namespace graftwright;
using namespace graftwright::test;

namespace {

constexpr int kAttempts = 100'000, kAtOnce = 1000;

std::string name_of(int trainee) { return "trainee " + std::to_string(trainee); }

// Made once for each number of trainees, gone at the end.
class LargeLogbook {
  public:
    explicit LargeLogbook(int trainees) {
        std::string folder = (std::filesystem::temp_directory_path() / "graftwright-bench-XXXXXX").string();
        if (mkdtemp(folder.data()) == nullptr) throw std::runtime_error("no temporary folder");
        folder_ = folder;
        Logbook logbook = open();
        for (int first = 0; first < kAttempts; first += kAtOnce) {
            std::vector<Entry> entries;
            for (int n = first; n < first + kAtOnce; ++n) entries.push_back(made_entry(n, name_of(n % trainees)));
            (void)logbook.add_all(entries);
        }
    }
    ~LargeLogbook() {
        std::error_code ignored;
        std::filesystem::remove_all(folder_, ignored);
    }
    LargeLogbook(const LargeLogbook&) = delete;
    LargeLogbook& operator=(const LargeLogbook&) = delete;

    [[nodiscard]] Logbook open() const { return Logbook::open(LogbookPlace::of(folder_ + "/book.sqlite")).take(); }

    static LargeLogbook& with(int trainees) {
        static std::map<int, std::unique_ptr<LargeLogbook>> made;
        std::unique_ptr<LargeLogbook>& one = made[trainees];
        if (!one) one = std::make_unique<LargeLogbook>(trainees);
        return *one;
    }

  private:
    std::string folder_;
};

// From the closed file to the page's data, as when the game opens it.
void opening_a_trainees_page(benchmark::State& state) {
    const LargeLogbook& large = LargeLogbook::with(static_cast<int>(state.range(0)));
    for (auto _ : state) {
        Logbook logbook = large.open();
        TraineePage page = logbook.trainee_page(name_of(0));
        benchmark::DoNotOptimize(page.attempts_in_all);
    }
}
BENCHMARK(opening_a_trainees_page)->Arg(100)->Arg(1)->Unit(benchmark::kMillisecond);

// For the course on the first screen.
void levels_of_a_trainee(benchmark::State& state) {
    Logbook logbook = LargeLogbook::with(static_cast<int>(state.range(0))).open();
    for (auto _ : state) benchmark::DoNotOptimize(logbook.levels_of(name_of(0)).size());
}
BENCHMARK(levels_of_a_trainee)->Arg(100)->Arg(1)->Unit(benchmark::kMillisecond);

void adding_one(benchmark::State& state) {
    const LargeLogbook& large = LargeLogbook::with(static_cast<int>(state.range(0)));
    Logbook logbook = large.open();
    static int next = kAttempts;
    for (auto _ : state) {
        state.PauseTiming();
        const Entry entry = made_entry(next++, name_of(0));
        state.ResumeTiming();
        benchmark::DoNotOptimize(logbook.add(entry));
    }
}
BENCHMARK(adding_one)->Arg(100)->Arg(1)->Unit(benchmark::kMillisecond);

// As `score --logbook` does it.
void opening_and_adding_one(benchmark::State& state) {
    const LargeLogbook& large = LargeLogbook::with(static_cast<int>(state.range(0)));
    static int next = 2 * kAttempts;
    for (auto _ : state) {
        Logbook logbook = large.open();
        benchmark::DoNotOptimize(logbook.add(made_entry(next++, name_of(0))));
    }
}
BENCHMARK(opening_and_adding_one)->Arg(100)->Unit(benchmark::kMillisecond);

void summary_of_the_group(benchmark::State& state) {
    Logbook logbook = LargeLogbook::with(static_cast<int>(state.range(0))).open();
    for (auto _ : state) benchmark::DoNotOptimize(logbook.group_summary(false).attempts);
}
BENCHMARK(summary_of_the_group)->Arg(100)->Unit(benchmark::kMillisecond);

}  // namespace
