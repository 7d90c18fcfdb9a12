// What a tick of the hand costs: the needle deep in both sides, the donor pushed, held and tied.
// Aims: 30 µs for the drive, 20 µs for the donor, so that 240 ticks a second are one part in eighty.
#include <cmath>

#include <benchmark/benchmark.h>

#include "../scenes/expert_drive.h"
#include "hand/donor_afloat.h"
#include "hand/section_drive.h"

namespace graftwright {
namespace {

// Through donor and host and back again, lip moving: every piece of the needle meets tissue.
void drive_tick(benchmark::State& state) {
    const Needle needle;
    SectionDrive drive(needle, SectionTissue{});
    drive.place(needle_at(needle, {-1.25, 0.05}, 38.0));
    for (int i = 0; i < 120; ++i) drive.step({0.5, {}, 0.0});
    int i = 0;
    for (auto _ : state) {
        const double sense = (i++ / 60) % 2 == 0 ? -0.4 : 0.4;
        drive.step({sense, {1e-4 * sense, 0.0}, 5.0 + std::fmod(0.1 * i, 5.0)});
        benchmark::DoNotOptimize(drive.take_events());
    }
}
BENCHMARK(drive_tick)->Unit(benchmark::kMicrosecond);

// A whole bite of the expert's, both drives: 470 ticks and the planning.
void expert_bite(benchmark::State& state) {
    const Needle needle;
    for (auto _ : state) {
        SectionDrive drive(needle, SectionTissue{});
        const scenes::ExpertBite bite = scenes::expert_bite(needle, drive.tissue());
        scenes::play(drive, bite.donor);
        scenes::play(drive, bite.host);
        double depth_um = drive.host_pass().depth_um;
        benchmark::DoNotOptimize(depth_um);
    }
}
BENCHMARK(expert_bite)->Unit(benchmark::kMillisecond);

// Argument: ovality of the donor in hundredths of a mm; an oval one touches with 24 beads.
void afloat_tick(benchmark::State& state) {
    AfloatShape shape;
    shape.donor_ovality_mm = 0.01 * static_cast<double>(state.range(0));
    DonorAfloat donor{shape};
    for (const double deg : {90.0, 270.0, 0.0, 180.0}) donor.tether(deg, deg);
    donor.hold({0.0, -3.5});
    int i = 0;
    for (auto _ : state) {
        donor.push({3.0, 1.0}, {8.0 * std::sin(0.01 * i), 8.0 * std::cos(0.013 * i)});
        donor.step();
        ++i;
    }
    benchmark::DoNotOptimize(donor.pose());
}
BENCHMARK(afloat_tick)->Arg(0)->Arg(20)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace graftwright
