// Directions published of running threads. `ours` is positive where the model goes the source's way.
//
// Tied and filled to 15 mmHg; a knot at 15 mN after the slack was worked round at 28 mN, which leaves all spans alike
// (belt friction µ 0.1, our choice: figures T9-06 has no measurement).
#pragma once

#include "published_rows.h"

namespace graftwright::published {

[[nodiscard]] inline Run even_run(const Scenario& scenario, int count, double first_deg) {
    constexpr double kWorked_mN = 28.0, kKnot_mN = 15.0;
    Run run;
    for (int k = 0; k < count; ++k) {
        const Bite bite = scenes::bite_at(scenario, first_deg + 360.0 * k / count);
        run.bites.push_back({static_cast<const BitePath&>(bite)});
    }
    run.worked_mN = kWorked_mN;
    run.tension_mN = kKnot_mN;
    return run;
}

[[nodiscard]] inline double range_of(const std::vector<double>& values) {
    const auto [low, high] = std::minmax_element(values.begin(), values.end());
    return *high - *low;
}

[[nodiscard]] inline Rows running_rows() {
    const Scenario scenario = scenes::standard_scenario();
    const ScenarioModel model(scenario);
    const auto closed = [&](const std::vector<Bite>& bites, const std::vector<Run>& runs) {
        return measure_closure(model, plan_closure(model, bites, runs));
    };
    // The knot lies between the run's last and first bite.
    Run tight = even_run(scenario, 16, 90.0);
    tight.tension_mN = 30.0;
    const Keratometry at_knot = *closed({}, {tight}).keratometry;
    constexpr double kKnot_deg = 90.0 - 11.25;
    // The same uneven depths for sixteen single bites at 15 mN and for a run.
    std::mt19937_64 engine(12);
    std::normal_distribution<double> normal;
    std::vector<Bite> singles = scenes::even_bites(scenario, 16);
    for (Bite& bite : singles) {
        const double error = 0.06 * normal(engine);
        bite.graft_depth_um *= 1.0 - std::abs(error);
        bite.host_depth_um *= 1.0 - std::abs(error);
    }
    Run run = even_run(scenario, 16, 90.0);
    for (RunBite& bite : run.bites) {
        const Bite& same = scenes::nearest(singles, bite.host_deg);
        static_cast<BitePath&>(bite) = same;
    }
    const ClosureMeasures single = closed(singles, {}), running = closed({}, {run});
    const double twelve = closed(scenes::even_bites(scenario, 12), {}).wound.leak_pressure_mmHg;
    const double once = closed({}, {even_run(scenario, 12, 90.0)}).wound.leak_pressure_mmHg;
    const double twice =
        closed({}, {even_run(scenario, 12, 90.0), even_run(scenario, 12, 105.0)}).wound.leak_pressure_mmHg;
    const char* const nuzzi = "Nuzzi et al., Clin Ophthalmol 2022;16:797: leaks in 10, 5.3, 0 %";
    const auto direction = [](const char* id, const char* what, const char* unit, double ours, const char* source,
                              const char* note = "") {
        return PublishedRow{id, what, unit, std::nullopt, 0.0, ours, true, source, note};
    };
    return {
        direction("T3-16/r", "running: a tighter knot steepens its own meridian", "D",
                  at_knot.cylinder_D * std::cos(2.0 * rad_from_deg(at_knot.steep_axis_deg - kKnot_deg)),
                  "Eye 1993 doi:10.1038/eye.1993.144: tighten in the flat meridian"),
        direction("T4-12", "running spreads tension more evenly than single bites", "mN",
                  range_of(single.tension_mN) - range_of(running.tension_mN),
                  "Benjamin, Ophthalmic Microsurgical Suturing Techniques ch. 6", "same uneven depths"),
        direction("T3-21/2", "double running, 12 + 12, leaks later than 12 single bites", "mmHg", twice - twelve,
                  nuzzi),
        direction("T3-21/1", "running, 12, leaks later than 12 single bites", "mmHg", once - twelve, nuzzi,
                  "bite for bite; theirs are rates of whole techniques"),
    };
}

}  // namespace graftwright::published
