#include "leak/wound_test.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <catch2/catch.hpp>

#include "../scenes/closure_scenes.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double kScenario = 15.0;  // mmHg

// Tied and tested; the tied state is kept for what a test wants to look at afterwards.
struct Tested {
    scenes::Scene scene;
    ClosureState tied;
    WoundTest wound;

    Tested(int bites, double tension, const scenes::SceneOptions& options = {},
           const WoundModel& model = scenes::standard_model(), double scenario_mmHg = kScenario)
        : scene(model, scenes::equal_bites(bites), options) {
        REQUIRE(scene.tie(tension));
        tied = scene.closure.state();
        REQUIRE(test_wound(scene.closure, scenario_mmHg, wound));
    }
    // From the knots up to a pressure again.
    void refill(double mmHg) {
        scene.closure.restore(tied);
        REQUIRE(scene.closure.fill_in_steps(mpa_from_mmhg(mmHg)));
    }
    [[nodiscard]] bool sealed_now() const {
        return sealed(scene.interface, scene.jumps(), scene.closure.state().pressure);
    }
    [[nodiscard]] double outflow_now() const {
        return outflow_uL_min(scene.interface, scene.jumps(), scene.closure.state().pressure);
    }
};

}  // namespace

TEST_CASE("filling: the chamber gets to the pressure asked for, up and down", "[leak]") {
    scenes::Scene scene(scenes::standard_model(), scenes::equal_bites(8));
    REQUIRE(scene.tie());
    for (double mmHg : {3.0, 31.0, 8.0}) {
        REQUIRE(scene.closure.fill_in_steps(mpa_from_mmhg(mmHg)));
        CHECK(scene.closure.state().pressure == mpa_from_mmhg(mmHg));
    }
}

TEST_CASE("wetting: fluid stands at the chamber's pressure behind the innermost fibre that seals, and nowhere else",
          "[leak]") {
    // Half-depth bites and a donor no larger than its bed: the front presses, the back opens.
    std::vector<BiteGeometry> bites = scenes::equal_bites(16);
    for (BiteGeometry& bite : bites) bite.donor_depth = bite.host_depth = 0.275;
    scenes::SceneOptions options;
    options.interference = 0.0;
    scenes::Scene scene(scenes::standard_model(), bites, options);
    REQUIRE(scene.tie(10e-3));
    // Read off the fluid, hindmost fibre first: p, …, p, 0, …, 0. The first dry one must be squashed by p/k_c or more
    // (k_c 1 MPa/mm), those behind it by less.
    int gaping = 0, sealed_in_front = 0;
    for (double mmHg : {15.0, 20.0, 25.0, 30.0}) {
        REQUIRE(scene.closure.fill_in_steps(mpa_from_mmhg(mmHg)));
        const ClosureState& state = scene.closure.state();
        const PointJumps jumps = scene.jumps();
        for (int j = 0; j < scene.interface.points(); ++j) {
            const auto fluid = state.fibres.fluid.col(j);
            const auto squash = [&](int k) { return -jumps(0, j) - scene.interface.z(k) * jumps(3, j); };
            CAPTURE(mmHg, j, fluid.transpose());
            if (sealing_pressure(scene.interface, jumps, j) < state.pressure) continue;  // open: the next case
            int wet = 0;
            while (wet < kFibres && fluid[wet] == state.pressure) ++wet;
            REQUIRE(wet < kFibres);
            CHECK(fluid.tail(kFibres - wet).maxCoeff() == 0.0);
            CHECK(squash(wet) >= state.pressure);
            if (wet == 0) continue;
            ++sealed_in_front;
            CHECK(squash(wet - 1) < state.pressure);
            if (squash(0) < 0.0) ++gaping;
        }
    }
    CHECK(sealed_in_front > 64);
    CHECK(gaping > 32);
}

TEST_CASE("wetting: through an open place the pressure falls from the chamber's to nothing", "[leak]") {
    scenes::Scene scene(scenes::standard_model(), scenes::equal_bites(4));
    REQUIRE(scene.tie());
    REQUIRE(scene.closure.fill_in_steps(mpa_from_mmhg(15.0)));
    const ClosureState& state = scene.closure.state();
    const PointJumps jumps = scene.jumps();
    int open = 0;
    for (int j = 0; j < scene.interface.points(); ++j) {
        if (sealing_pressure(scene.interface, jumps, j) >= state.pressure) continue;
        ++open;
        const auto fluid = state.fibres.fluid.col(j);
        CAPTURE(j, fluid.transpose());
        CHECK(fluid.maxCoeff() <= state.pressure);
        CHECK(fluid.minCoeff() >= 0.0);
        for (int k = 1; k < kFibres; ++k) CHECK(fluid[k] <= fluid[k - 1]);  // hindmost first
    }
    CHECK(open > 20);
}

TEST_CASE("leak test: it leaks above the leak pressure and not below, when filled anew from the knots", "[leak]") {
    for (int bites : {8, 16}) {
        Tested tested(bites, scenes::kTension);
        const double leaks_at = tested.wound.leak_pressure_mmHg;
        CAPTURE(bites, leaks_at);
        CHECK_FALSE(tested.wound.capped);
        // The path up has other steps here, and sliding fibres keep some of it.
        for (double share : {0.3, 0.6, 0.9, 0.97}) {
            tested.refill(share * leaks_at);
            CHECK(tested.sealed_now());
            CHECK(tested.outflow_now() == 0.0);
        }
        for (double share : {1.03, 1.15, 1.3}) {
            tested.refill(share * leaks_at);
            CHECK_FALSE(tested.sealed_now());
            CHECK(tested.outflow_now() > 0.0);
        }
    }
}

TEST_CASE("leak test: a watertight eye settles at its own pressure and loses nothing", "[leak]") {
    const Tested tested(16, scenes::kTension);
    CHECK(tested.wound.leak_pressure_mmHg > kScenario);
    CHECK(tested.wound.leak_uL_min == 0.0);
    CHECK(tested.wound.settled_pressure_mmHg == kScenario);
}

TEST_CASE("leak test: a leaking eye settles where inflow, outflow and leak balance", "[leak][handbook]") {
    // F = C max(0, p − p_v) + leak(p) with p_v = scenario − F/C (T5-09, T5-11: P = (F + C p_v)/(C + G), below p_v
    // without reflux P = F/G, G = leak/P).
    const double venous = kScenario - kInflow_uL_min / kOutflowFacility;
    bool above_venous = false, below_venous = false;
    for (double tension : {3e-3, 5e-3, 7e-3, 10e-3}) {
        Tested tested(8, tension);
        const WoundTest& wound = tested.wound;
        CAPTURE(tension, wound.leak_pressure_mmHg, wound.settled_pressure_mmHg, wound.leak_uL_min);
        REQUIRE(wound.leak_pressure_mmHg < kScenario);
        CHECK(wound.settled_pressure_mmHg < kScenario);
        CHECK(wound.settled_pressure_mmHg >= wound.leak_pressure_mmHg);
        // What runs out of the wound a little below and a little above, worked out anew.
        const auto surplus = [&](double mmHg) {
            tested.refill(mmHg);
            return kOutflowFacility * std::max(0.0, mmHg - venous) + tested.outflow_now() - kInflow_uL_min;
        };
        CHECK(surplus(wound.settled_pressure_mmHg - 0.3) < 0.0);
        CHECK(surplus(wound.settled_pressure_mmHg + 0.3) > 0.0);
        const double G = wound.leak_uL_min / wound.settled_pressure_mmHg;
        if (wound.settled_pressure_mmHg > venous) {
            above_venous = true;
            CHECK_THAT(wound.settled_pressure_mmHg,
                       WithinRel((kInflow_uL_min + kOutflowFacility * venous) / (kOutflowFacility + G), 1e-9));
        } else {
            below_venous = true;
            CHECK(wound.leak_uL_min == kInflow_uL_min);  // all of it: no reflux
            CHECK_THAT(wound.settled_pressure_mmHg, WithinRel(kInflow_uL_min / G, 1e-9));
        }
    }
    CHECK(above_venous);
    CHECK(below_venous);
}

TEST_CASE("leak test: more bites, more tension and a larger donor hold more pressure", "[leak]") {
    const auto leaks_at = [](int bites, double tension, double interference) {
        scenes::SceneOptions options;
        options.interference = interference;
        return Tested(bites, tension, options).wound.leak_pressure_mmHg;
    };
    const double usual = leaks_at(8, 15e-3, 0.125);
    CHECK(leaks_at(4, 15e-3, 0.125) < usual);
    CHECK(leaks_at(16, 15e-3, 0.125) > usual);
    double last = 0.0;
    for (double tension : {5e-3, 10e-3, 15e-3, 25e-3}) {
        const double now = leaks_at(8, tension, 0.125);
        CAPTURE(tension, now, last);
        CHECK(now > last);
        last = now;
    }
    CHECK(leaks_at(8, 15e-3, 0.25) > usual);
    CHECK(leaks_at(8, 15e-3, 0.0) < usual);
}

TEST_CASE("leak test: it ends at the highest pressure the model serves and says that it was capped", "[leak]") {
    WoundModelOptions options = scenes::with_harmonics(scenes::kQuickHarmonics);
    options.levels_mmHg = {0.0, 10.0, 25.0};
    const WoundModel model(scenes::standard_eye(), options);
    const Tested tested(16, scenes::kTension, {}, model);
    CHECK(tested.wound.capped);
    CHECK(tested.wound.leak_pressure_mmHg == Approx(25.0).epsilon(1e-12));
    CHECK(tested.wound.leak_uL_min == 0.0);
    CHECK(tested.wound.settled_pressure_mmHg == kScenario);
}

TEST_CASE("leak test: the scenario's pressure has no say in the leak pressure, only in where the chamber settles",
          "[leak]") {
    const Tested low(8, 5e-3, {}, scenes::standard_model(), 12.0), high(8, 5e-3, {}, scenes::standard_model(), 22.0);
    CHECK(low.wound.leak_pressure_mmHg == high.wound.leak_pressure_mmHg);
    CHECK(low.wound.weakest_deg == high.wound.weakest_deg);
    CHECK(high.wound.settled_pressure_mmHg >= low.wound.settled_pressure_mmHg);
}

TEST_CASE("leak test: it opens where the widest space between bites is", "[leak]") {
    std::vector<BiteGeometry> bites;
    for (double deg : {0.0, 50.0, 90.0, 130.0, 180.0, 230.0, 270.0, 330.0}) bites.push_back(scenes::bite_at(deg));
    bites[6] = scenes::bite_at(265.0);  // 265° to 330°: 65°
    scenes::Scene scene(scenes::standard_model(), bites);
    REQUIRE(scene.tie());
    WoundTest wound;
    REQUIRE(test_wound(scene.closure, kScenario, wound));
    CHECK_THAT(wound.weakest_deg, WithinAbs(297.5, 10.0));
}

TEST_CASE("leak test: same closure, same answer to the last bit", "[leak][property]") {
    const Tested once(8, 5e-3), again(8, 5e-3);
    CHECK(once.wound.leak_pressure_mmHg == again.wound.leak_pressure_mmHg);
    CHECK(once.wound.settled_pressure_mmHg == again.wound.settled_pressure_mmHg);
    CHECK(once.wound.leak_uL_min == again.wound.leak_uL_min);
    CHECK(once.wound.weakest_deg == again.wound.weakest_deg);
}

TEST_CASE("leak test: twice as many harmonics move the leak pressure by less than half a millimetre of mercury",
          "[leak][property]") {
    for (int bites : {8, 16}) {
        const Tested coarse(bites, scenes::kTension, {}, scenes::standard_model(48));
        const Tested fine(bites, scenes::kTension, {}, scenes::standard_model(96));
        CAPTURE(bites);
        CHECK_THAT(coarse.wound.leak_pressure_mmHg, WithinAbs(fine.wound.leak_pressure_mmHg, 0.5));
    }
}

TEST_CASE("seal profile: seal, gap, step and posterior gape are what the interface's jumps say", "[leak]") {
    EyeShape shape = scenes::standard_eye();
    shape.rim_thickness = 0.65;
    const WoundModel model(shape, scenes::with_harmonics(scenes::kQuickHarmonics));
    std::vector<BiteGeometry> bites = scenes::equal_bites(16);
    for (BiteGeometry& bite : bites) bite.donor_depth = bite.host_depth = 0.275;  // half depth: the back gapes
    scenes::SceneOptions options;
    options.interference = -0.01;
    scenes::Scene scene(model, bites, options);
    REQUIRE(scene.tie(10e-3));
    REQUIRE(scene.closure.fill_in_steps(mpa_from_mmhg(30.0)));
    const PointJumps jumps = scene.jumps();
    const std::vector<SealPlace> profile = seal_profile(scene.closure);
    REQUIRE(profile.size() == 128);
    double widest = 0.0;
    for (int j = 0; j < 128; ++j) {
        const SealPlace& place = profile[static_cast<std::size_t>(j)];
        CHECK_THAT(place.deg, WithinAbs(360.0 * j / 128.0, 1e-9));
        CHECK_THAT(place.seal_mmHg, WithinRel(mmhg_from_mpa(sealing_pressure(scene.interface, jumps, j)), 1e-12));
        CHECK((place.gap_um == 0.0) == (sealing_pressure(scene.interface, jumps, j) > 0.0));
        // Front surfaces, host − donor: [w] of the middle surfaces and half of what the rim is thicker, 50 µm.
        CHECK_THAT(place.step_um, WithinAbs(1e3 * jumps(2, j) + 50.0, 1e-9));
        // At the back edge of the thinner wall.
        const double back = jumps(0, j) - 0.275 * jumps(3, j) + 0.01;
        CHECK_THAT(place.posterior_gape_um, WithinAbs(1e3 * std::max(0.0, back), 1e-9));
        widest = std::max(widest, place.posterior_gape_um);
    }
    CHECK(widest > 1.0);
}
