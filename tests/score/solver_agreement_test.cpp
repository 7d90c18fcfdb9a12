// The interactive solver against the dense one: two ways to the same balance.
#include <algorithm>
#include <cmath>
#include <random>
#include <thread>
#include <utility>

#include <catch2/catch.hpp>

#include "../scenes/dense_solver.h"
#include "closure/newton_solver.h"
#include "leak/wound_test.h"
#include "optics/deformed_donor.h"
#include "optics/keratometry.h"
#include "score/scenario_model.h"

namespace graftwright {
namespace {

struct Answer {
    bool ok = false;
    Eigen::VectorXd tension;
    PowerVector power;
    RingMatrix edges;
};

template <typename Solver>
Answer close(const ScenarioModel& model, const std::vector<Bite>& bites) {
    const double turn = donor_turn(bites);
    std::vector<std::shared_ptr<const ThreadLoads>> loads;
    std::vector<KnotPlan> plan;
    std::vector<const ThreadPath*> paths;
    for (const Bite& bite : bites) {
        loads.push_back(make_bite_loads(model.wound(), bite_geometry(bite, turn)));
        plan.push_back({newton_from_mn(bite.tension_mN), false});
        paths.push_back(&loads.back()->path);
    }
    const ClosureSystem system(model.wound(), loads);
    const WoundInterface interface(model.wound(), model.interface_constants(),
                                   interference(model.scenario(), turn, model.wound().points()));
    Closure closure(system, interface, model.thread_EA(), std::make_unique<Solver>(system, interface));
    Answer answer;
    answer.ok = closure.tie(plan) && closure.fill_in_steps(mpa_from_mmhg(model.scenario().eye.pressure_mmHg));
    answer.tension = closure.state().tension;
    answer.edges = closure.state().edges;
    if (answer.ok) {
        const DeformedDonor surface(model.wound(),
                                    model.wound().donor_displacement(closure.state().pressure, closure.state().donor_edge(), paths,
                                                                     answer.tension, kOpticalHarmonics));
        if (const auto reading = read_keratometry(surface)) answer.power = reading->power;
    }
    return answer;
}

// A hand with a wide scatter: 4 to 20 bites, a few degrees off, shallow and deep, loose and tight.
std::vector<Bite> scattered_bites(const Scenario& scenario, std::mt19937_64& engine) {
    const auto between = [&](double low, double high) {
        return low + (high - low) * static_cast<double>(engine() >> 11U) * 0x1.0p-53;
    };
    const int count = 4 + static_cast<int>(between(0.0, 16.999));
    std::vector<Bite> bites(static_cast<std::size_t>(count));
    for (int b = 0; b < count; ++b) {
        Bite& bite = bites[static_cast<std::size_t>(b)];
        // Every other slot, then those between: neighbours are far apart in the tying order.
        const int half = (count + 1) / 2;
        const int slot = b < half ? 2 * b : 2 * (b - half) + 1;
        bite.host_deg = 360.0 * slot / count + between(-6.0, 6.0);
        bite.graft_deg = bite.host_deg + between(-4.0, 4.0);
        bite.graft_skew_mm = between(-0.2, 0.2);
        bite.host_skew_mm = between(-0.2, 0.2);
        bite.graft_bite_mm = between(0.7, 1.5);
        bite.host_bite_mm = between(0.7, 1.5);
        bite.graft_depth_um = between(0.4, 0.97) * scenario.graft.thickness_um;
        bite.host_depth_um = between(0.4, 0.97) * scenario.eye.rim_thickness_um;
        bite.tension_mN = between(3.0, 40.0);
    }
    return bites;
}

WoundModelOptions quick_options() {
    WoundModelOptions options;
    options.harmonics = 24;
    options.points = 96;
    return options;
}

}  // namespace

TEST_CASE("solver: 200 random closures agree with the dense reference to 1e-6 D and 1e-4 mN",
          "[score][reference][slow]") {
    const ScenarioModel model(Scenario{}, quick_options());
    std::mt19937_64 engine(20261124);
    double worst_D = 0.0, worst_mN = 0.0;
    int balanced = 0;
    for (int i = 0; i < 200; ++i) {
        const std::vector<Bite> bites = scattered_bites(model.scenario(), engine);
        const Answer quick = close<NewtonSolver>(model, bites), dense = close<DenseSolver>(model, bites);
        REQUIRE(quick.ok == dense.ok);
        if (!quick.ok) continue;
        ++balanced;
        const PowerVector apart = quick.power - dense.power;
        worst_D = std::max({worst_D, std::abs(apart.M_D), std::abs(apart.J0_D), std::abs(apart.J45_D)});
        worst_mN = std::max(worst_mN, 1e3 * (quick.tension - dense.tension).cwiseAbs().maxCoeff());
    }
    CAPTURE(worst_D, worst_mN, balanced);
    CHECK(balanced >= 190);
    CHECK(worst_D < 1e-6);
    CHECK(worst_mN < 1e-4);
}

// From graftwright_fuzz (seeds 1205 and 1442): the first bite of a loose donor, drawn hard across a slanting crossing,
// the donor turned every which way. The strand's length is a valley all but straight on both sides; a search content
// with a lower energy leaps to and fro over it until its steps run out, here and there.
TEST_CASE("solver: a first bite drawn hard across the wound finds its balance however the donor is turned",
          "[score][slow]") {
    Scenario shallow, tight;
    Bite of_shallow, of_tight;
    shallow.eye.bed_diameter_mm = 7.8643;
    shallow.eye.bed_ovality_mm = 0.5996;
    shallow.eye.bed_ovality_axis_deg = 178.89;
    shallow.eye.rim_thickness_um = 696.34;
    shallow.eye.modulus_kPa = 915.7;
    shallow.graft.diameter_mm = 8.4069;
    shallow.graft.ovality_mm = 0.9879;
    shallow.graft.ovality_axis_deg = 87.17;
    shallow.graft.thickness_um = 750.10;
    shallow.graft.modulus_kPa = 1440.6;
    static_cast<BitePath&>(of_shallow) = {352.57, 343.42, 0.272, 0.019, 1.603, 1.354, 110.7, 241.4, 41.1, 71.0};
    of_shallow.tension_mN = 24.82;
    tight.eye.bed_diameter_mm = 7.3757;
    tight.eye.bed_ovality_mm = 0.4289;
    tight.eye.bed_ovality_axis_deg = 48.90;
    tight.eye.rim_thickness_um = 462.86;
    tight.eye.modulus_kPa = 419.7;
    tight.graft.diameter_mm = 7.8874;
    tight.graft.ovality_mm = 0.8281;
    tight.graft.ovality_axis_deg = 50.31;
    tight.graft.thickness_um = 596.12;
    tight.graft.modulus_kPa = 755.0;
    static_cast<BitePath&>(of_tight) = {354.87, 345.37, 0.155, 0.283, 1.664, 1.050, 89.3, 213.6, 79.0, 48.1};
    of_tight.tension_mN = 142.98;
    for (const auto& [scenario, bite] : {std::pair(shallow, of_shallow), std::pair(tight, of_tight)}) {
        const ScenarioModel model(scenario);
        int most = 0, lost = 0;
        for (int tenths = -140; tenths <= 140; ++tenths) {
            const double turn = rad_from_deg(0.1 * tenths);
            const ClosureSystem system(model.wound(), {make_bite_loads(model.wound(), bite_geometry(bite, turn))});
            const WoundInterface interface(model.wound(), model.interface_constants(),
                                           interference(scenario, turn, model.wound().points()));
            Closure closure(system, interface, model.thread_EA());
            CHECK_FALSE(closure.tie({{newton_from_mn(bite.tension_mN), false}}));  // one bite holds no chamber
            most = std::max(most, closure.status().most_iterations);
            if (closure.status().residual > 1e-9) ++lost;
        }
        CAPTURE(scenario.eye.bed_diameter_mm, most);
        CHECK(lost == 0);
        CHECK(most < 50);
    }
}

TEST_CASE("solver: the same input gives the same bits on one thread and on four at once", "[score][property]") {
    const ScenarioModel model(Scenario{}, quick_options());
    std::mt19937_64 engine(7);
    const std::vector<Bite> bites = scattered_bites(model.scenario(), engine);
    const Answer alone = close<NewtonSolver>(model, bites);
    std::vector<Answer> together(4);
    std::vector<std::thread> threads;
    for (Answer& answer : together) threads.emplace_back([&] { answer = close<NewtonSolver>(model, bites); });
    for (std::thread& thread : threads) thread.join();
    for (const Answer& answer : together) {
        CHECK(answer.ok == alone.ok);
        CHECK(answer.edges == alone.edges);
        CHECK(answer.tension == alone.tension);
        CHECK(answer.power.J0_D == alone.power.J0_D);
    }
}

}  // namespace graftwright
