// The trends that must come out with nothing tuned per test: sixteen bites, interference 0.125 mm,
// E 1 MPa (scenes/attempts.h). "Prescribed": all tensions given at once, 15 mmHg; "tied": one after the
// other at 1 mmHg, then filled to 15 mmHg. Source of every expected number: the design's table of trends,
// unless said; its "several" and "about" are turned into numbers here, which is our choice.
#include <numeric>

#include <catch2/catch.hpp>

#include "../scenes/attempts.h"
#include "../scenes/test_surfaces.h"

using namespace graftwright;
using namespace graftwright::scenes;
using Catch::Matchers::WithinAbs;

namespace {

// A meridian named by a difference of two power vectors is as good as this (our choice).
constexpr double kAxis_deg = 5.0;

struct Standard {
    Scenario scenario = standard_scenario();
    ScenarioModel model{scenario};
};

// What a change of some bites does to the cornea: a vector, read as cylinder and steep axis.
Keratometry change(const PowerVector& with, const PowerVector& without) {
    return keratometry_of_vector(with - without);
}

void scale_tension(std::vector<Bite>& bites, double deg, double factor) { nearest(bites, deg).tension_mN *= factor; }

double off_axis_deg(double axis_deg, double expected_deg) {
    return std::abs(scenes::axis_difference_deg(axis_deg, expected_deg));
}

struct Extent {
    double least = 0.0, most = 0.0;
};
Extent extent(const std::vector<double>& values, std::size_t first, std::size_t count) {
    const auto begin = values.begin() + static_cast<std::ptrdiff_t>(first);
    const auto [least, most] = std::minmax_element(begin, begin + static_cast<std::ptrdiff_t>(count));
    return {*least, *most};
}

}  // namespace

TEST_CASE_METHOD(Standard, "trend: equal bites with prescribed tensions leave no cylinder and a watertight wound",
                 "[score][trend][slow]") {
    const PrescribedClosure closure = prescribed(model, even_bites(scenario, 16), 15.0);
    CHECK(closure.keratometry.cylinder_D < 0.02);
    CHECK(closure.least_seal_mmHg() > 15.0);
}

TEST_CASE_METHOD(Standard, "trend: equal bites tied in order leave less than 0.4 D", "[score][trend][slow]") {
    const ClosureMeasures closure = tied(model, even_bites(scenario, 16), true);
    CHECK(closure.keratometry->cylinder_D < 0.4);
    CHECK(closure.wound.leak_pressure_mmHg > 15.0);
}

TEST_CASE_METHOD(Standard, "trend: a bite at twice the tension steepens its own meridian and a pair does twice as much",
                 "[score][trend][slow]") {
    // 10 to 20 mN, first by prescribed tensions, then tied in order.
    const std::vector<Bite> even = even_bites(scenario, 16, {10.0});
    const double at = GENERATE(90.0, 157.5);
    INFO("at " << at);
    std::vector<Bite> single = even, pair = even;
    scale_tension(single, at, 2.0);
    scale_tension(pair, at, 2.0);
    scale_tension(pair, at + 180.0, 2.0);
    const auto hold = [&](const PowerVector& base, const PowerVector& one, const PowerVector& two) {
        const Keratometry by_one = change(one, base), by_two = change(two, base);
        CHECK(off_axis_deg(by_one.steep_axis_deg, at) < kAxis_deg);
        CHECK(off_axis_deg(by_two.steep_axis_deg, at) < kAxis_deg);
        CHECK_THAT(by_two.cylinder_D / by_one.cylinder_D, WithinAbs(2.0, 0.1));
        // "1–3 D at 10→20 mN": the pair; the single bite alone has half of it (0.75 to 1.13 D).
        CHECK(by_two.cylinder_D > 1.0);
        CHECK(by_two.cylinder_D < 3.0);
    };
    const auto given = [&](const std::vector<Bite>& bites) { return prescribed(model, bites, 15.0).keratometry.power; };
    const auto knotted = [&](const std::vector<Bite>& bites) { return tied(model, bites).keratometry->power; };
    hold(given(even), given(single), given(pair));
    hold(knotted(even), knotted(single), knotted(pair));
}

TEST_CASE_METHOD(Standard, "trend: an opposite pair too loose flattens its meridian", "[score][trend][slow]") {
    const std::vector<Bite> even = even_bites(scenario, 16);
    const double at = GENERATE(90.0, 22.5);
    std::vector<Bite> loose = even;
    scale_tension(loose, at, 0.5);
    scale_tension(loose, at + 180.0, 0.5);
    const PowerVector before = tied(model, even).keratometry->power, after = tied(model, loose).keratometry->power;
    CHECK(after.along_D(at) < before.along_D(at) - 0.25);
    CHECK(off_axis_deg(change(after, before).steep_axis_deg, at + 90.0) < kAxis_deg);
}

TEST_CASE_METHOD(Standard, "trend: more tension in all bites flattens the graft and seals it better",
                 "[score][trend][slow]") {
    double mean_D = 1e9, leak_mmHg = 0.0;
    for (const double tension : {10.0, 15.0, 20.0, 30.0}) {
        INFO("tie tension " << tension);
        const ClosureMeasures closure = tied(model, even_bites(scenario, 16, {tension}), true);
        CHECK(closure.keratometry->mean_D < mean_D - 0.5);
        CHECK(closure.wound.leak_pressure_mmHg > leak_mmHg + 5.0);
        mean_D = closure.keratometry->mean_D;
        leak_mmHg = closure.wound.leak_pressure_mmHg;
    }
}

TEST_CASE("trend: a larger donor in the same bed steepens by 2 to 3 D per 0.25 mm", "[score][trend][slow]") {
    std::vector<double> mean_D;
    for (const double diameter_mm : {7.75, 8.0, 8.25}) {
        Scenario scenario = standard_scenario();
        scenario.graft.diameter_mm = diameter_mm;
        const ScenarioModel model(scenario);
        mean_D.push_back(tied(model, even_bites(scenario, 16)).keratometry->mean_D);
    }
    CHECK_THAT(mean_D[1] - mean_D[0], WithinAbs(2.5, 0.5));
    CHECK_THAT(mean_D[2] - mean_D[1], WithinAbs(2.5, 0.5));
}

TEST_CASE_METHOD(Standard, "trend: half-depth bites turn the wound open at the back and seal it worse",
                 "[score][trend][slow]") {
    const PrescribedClosure deep = prescribed(model, even_bites(scenario, 16, {10.0}), 15.0);
    const PrescribedClosure shallow = prescribed(model, even_bites(scenario, 16, {10.0, 0.5}), 15.0);
    // Gap at height z: [u] + z [b_s] − δ; z < 0 is the back.
    CHECK(deep.mean_bs_rad() > 0.01);
    CHECK(shallow.mean_bs_rad() < -0.01);
    for (const int bites : {8, 16}) {
        INFO(bites << " bites");
        const double deep_leak = tied(model, even_bites(scenario, bites), true).wound.leak_pressure_mmHg;
        const double shallow_leak =
            tied(model, even_bites(scenario, bites, {15.0, 0.5}), true).wound.leak_pressure_mmHg;
        CHECK(shallow_leak < deep_leak - 1.0);
    }
}

TEST_CASE("trend: half-depth bites in a donor no larger than its bed let the back gape", "[score][trend][slow]") {
    // With 0.125 mm of interference the back stays pressed together in the standard case.
    Scenario scenario = standard_scenario();
    scenario.graft.diameter_mm = scenario.eye.bed_diameter_mm;
    const ScenarioModel model(scenario);
    const auto gape_um = [&](double depth) {
        double most = 0.0;
        for (const SealPlace& place : tied(model, even_bites(scenario, 8, {15.0, depth})).profile) {
            most = std::max(most, place.posterior_gape_um);
        }
        return most;
    };
    CHECK(gape_um(0.92) == 0.0);
    CHECK(gape_um(0.5) > 3.0);
}

TEST_CASE_METHOD(Standard, "trend: unequal depths at one bite make a step there", "[score][trend][slow]") {
    const auto step_um = [&](double donor_fraction, double host_fraction, double at) {
        std::vector<Bite> bites = even_bites(scenario, 16);
        nearest(bites, 90.0).graft_depth_um = donor_fraction * scenario.graft.thickness_um;
        nearest(bites, 90.0).host_depth_um = host_fraction * scenario.eye.rim_thickness_um;
        return place_at(tied(model, bites).profile, at).step_um;
    };
    const double even = step_um(0.92, 0.92, 90.0);
    // The strands line up: a donor caught shallow sinks against the host, so the host stands forward.
    CHECK(step_um(0.5, 0.92, 90.0) > even + 100.0);
    CHECK(step_um(0.92, 0.5, 90.0) < even - 100.0);
    // And it is there, not all round.
    CHECK(std::abs(step_um(0.5, 0.92, 270.0) - step_um(0.92, 0.92, 270.0)) < 20.0);
}

TEST_CASE_METHOD(Standard,
                 "trend: at equal total tension the wound seals better the more bites share it and the longer they are",
                 "[score][trend][slow]") {
    constexpr double kTotal_mN = 160.0;
    const auto leak_mmHg = [&](int bites, double length_mm) {
        return tied(model, even_bites(scenario, bites, {kTotal_mN / bites, 0.92, length_mm}), true)
            .wound.leak_pressure_mmHg;
    };
    double fewer = 0.0;
    for (const int bites : {4, 6, 8, 12, 16}) {
        INFO(bites << " bites");
        const double leak = leak_mmHg(bites, 1.1);
        CHECK(leak > fewer + 1.0);
        fewer = leak;
    }
    const double short8 = leak_mmHg(8, 0.75), long8 = leak_mmHg(8, 1.25);
    const double short16 = leak_mmHg(16, 0.75), long16 = leak_mmHg(16, 1.25);
    CHECK(long8 > short8 + 1.0);
    CHECK(long16 > short16 + 1.0);
    // Short bites need close spacing: they lose less of the seal where bites are many.
    CHECK(short16 / long16 > short8 / long8 + 0.05);
}

TEST_CASE_METHOD(
    Standard, "trend: a second cardinal bite off its mark costs several dioptres with four bites and less with sixteen",
    "[score][trend][slow]") {
    // Host side alone 11° off (the donor is dragged round), or both sides 11° off the opposite place.
    const double donor_off_deg = GENERATE(0.0, 11.0);
    INFO("donor side off by " << donor_off_deg);
    const auto off = [&](int n) {
        std::vector<Bite> bites = even_bites(scenario, n);
        bites[1].host_deg += 11.0;
        bites[1].graft_deg += donor_off_deg;
        return tied(model, bites);
    };
    const ClosureMeasures four = off(4), sixteen = off(16);
    CHECK(four.keratometry->cylinder_D > 3.0);
    CHECK(sixteen.keratometry->cylinder_D < four.keratometry->cylinder_D);
    const Extent uneven = extent(four.tension_mN, 0, 4);
    const Extent even = extent(tied(model, even_bites(scenario, 4)).tension_mN, 0, 4);
    CHECK(uneven.most - uneven.least > 2.0 * (even.most - even.least));
}

TEST_CASE("trend: an oval bed is steep along its long axis before any error of the hand", "[score][trend][slow]") {
    const double axis_deg = GENERATE(0.0, 30.0);
    Scenario scenario = standard_scenario();
    scenario.eye.bed_ovality_mm = 0.1;
    scenario.eye.bed_ovality_axis_deg = axis_deg;
    const ScenarioModel model(scenario);
    const Keratometry given = prescribed(model, even_bites(scenario, 16), 15.0).keratometry;
    CHECK(given.cylinder_D > 1.0);
    CHECK(off_axis_deg(given.steep_axis_deg, axis_deg) < kAxis_deg);
    const Keratometry knotted = tied(model, even_bites(scenario, 16)).keratometry.value();
    CHECK(knotted.cylinder_D > 1.0);
    CHECK(off_axis_deg(knotted.steep_axis_deg, axis_deg) < kAxis_deg);
}

TEST_CASE("trend: later knots slacken earlier ones by up to a sixth", "[score][trend][slow]") {
    Scenario scenario = standard_scenario();
    scenario.eye.pressure_mmHg = 1.0;  // as tied: filling tightens all
    const ScenarioModel model(scenario);
    const std::vector<double> tension = tied(model, even_bites(scenario, 16)).tension_mN;
    // 15 mN each at its own knot. The first eight: the eight between them came later.
    const Extent earlier = extent(tension, 0, 8), later = extent(tension, 8, 8);
    CHECK(earlier.most < 15.0);
    CHECK_THAT((15.0 - earlier.least) / 15.0, WithinAbs(1.0 / 6.0, 0.03));
    // The last has nothing after it.
    CHECK_THAT(tension.back(), WithinAbs(15.0, 1e-3));  // as near as the solver settles
    CHECK(later.least > earlier.most);
    CHECK(std::accumulate(tension.begin(), tension.begin() + 8, 0.0) / 8.0 < 15.0 * (1.0 - 1.0 / 12.0));
}
