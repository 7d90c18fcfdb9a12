// Attempts and scenarios of every kind that a reader accepts, to the last digit; for property tests.
#pragma once

#include <algorithm>
#include <cstdint>
#include <optional>
#include <rapidcheck.h>
#include <string>
#include <vector>

#include "files/attempt.h"
#include "files/scenario.h"

namespace graftwright::test {

// Any of the 2^53 evenly spaced doubles between the limits, with all their digits.
inline double between(double low, double high) {
    const double steps = 9007199254740992.0;
    const auto step = *rc::gen::inRange<std::int64_t>(0, std::int64_t{1} << 53);
    return low + (high - low) * (static_cast<double>(step) / steps);
}

inline std::string any_text() {
    static const std::vector<std::string> kPieces{"a", "Ä", "\"", "\\", "\n", "\t", "µ", "😀", " ", "\x01"};
    std::string text;
    for (const std::size_t piece :
         *rc::gen::container<std::vector<std::size_t>>(rc::gen::inRange<std::size_t>(0, kPieces.size())))
        if (text.size() < 36) text += kPieces[piece];
    return text;
}

// Distinct places: one bite in the middle of each of n sectors, give or take.
inline void any_path(BitePath& path, int slot, int slots) {
    path.host_deg = 360.0 * (slot + between(0.3, 0.7)) / slots;
    path.graft_deg = between(0.0, 359.999);
    path.graft_skew_mm = between(-2.0, 2.0);
    path.host_skew_mm = between(-2.0, 2.0);
    path.graft_bite_mm = between(0.2, 2.0);
    path.host_bite_mm = between(0.2, 0.45);
    path.graft_depth_um = between(1.0, 200.0);
    path.host_depth_um = between(1.0, 200.0);
    path.graft_entry_deg = between(0.01, 90.0);
    path.host_exit_deg = between(0.01, 90.0);
}

inline void any_bites(std::vector<Bite>& bites, std::vector<Run>& runs, double strongest_mN) {
    bites.resize(*rc::gen::inRange<std::size_t>(1, 33));
    for (std::size_t i = 0; i < bites.size(); ++i) {
        any_path(bites[i], static_cast<int>(i), static_cast<int>(bites.size()));
        bites[i].tension_mN = between(0.0, strongest_mN);
        bites[i].throws = *rc::gen::element<std::string>("3-1-1", "2-1", "1-1-1-1");
        bites[i].removed = *rc::gen::arbitrary<bool>();
    }
    runs.resize(*rc::gen::inRange<std::size_t>(0, 3));
    for (Run& run : runs) {
        run.bites.resize(*rc::gen::inRange<std::size_t>(1, 17));
        for (std::size_t i = 0; i < run.bites.size(); ++i)
            any_path(run.bites[i], static_cast<int>(i), static_cast<int>(run.bites.size()));
        run.tension_mN = between(0.0, strongest_mN);
        run.friction = between(0.0, 1.0);
    }
}

inline std::optional<double> perhaps(double low, double high) {
    if (*rc::gen::arbitrary<bool>()) return std::nullopt;
    return between(low, high);
}

inline Attempt any_attempt() {
    Attempt attempt;
    attempt.scenario = *rc::gen::element<std::string>("sixteen", "x", "a-b_9");
    attempt.trainee = any_text();
    attempt.started = *rc::gen::element<std::string>("", "2026-03-02T09:14:00Z");
    any_bites(attempt.bites, attempt.runs, 190.0);
    const auto events = *rc::gen::inRange<std::size_t>(0, 4);
    for (std::size_t i = 0; i < events; ++i)
        attempt.events.push_back(
            {between(0.0, 3600.0), *rc::gen::element<std::string>("trauma", "iris_caught", "look"),
             *rc::gen::element<std::string>("", R"({"at":[1,2.5,null],"force_mN":0.1})", R"({"note":"Ä\n"})")});
    return attempt;
}

inline Scenario any_scenario() {
    Scenario scenario;
    scenario.id = "any";
    scenario.title = any_text();
    scenario.briefing = any_text();
    scenario.teaches = {any_text(), any_text()};
    scenario.kind = *rc::gen::element(ScenarioKind::closure, ScenarioKind::read_rings, ScenarioKind::remove);
    scenario.order = *rc::gen::inRange(0, 100001);
    scenario.eye = {*rc::gen::element(Side::right, Side::left),
                    between(5.0, 9.0),
                    between(0.0, 1.0),
                    between(0.0, 359.9),
                    {between(-0.3, 0.3), between(-0.3, 0.3)},
                    between(200.0, 1500.0),
                    between(11.5, 12.5),
                    between(7.5, 10.0),
                    between(50.0, 20000.0),
                    between(1.0, 100.0)};
    scenario.graft = {scenario.eye.bed_diameter_mm + between(-0.99, 0.99), between(0.0, 1.0), between(0.0, 359.9),
                      between(200.0, 1500.0), between(50.0, 20000.0)};
    scenario.thread = {between(5.0, 100.0), between(0.1, 20.0), between(100.0, 1000.0)};
    any_bites(scenario.start.bites, scenario.start.runs, 100.0);
    for (Bite& bite : scenario.start.bites) bite.graft_bite_mm = 1.0;
    for (Run& run : scenario.start.runs)
        for (RunBite& bite : run.bites) bite.graft_bite_mm = 1.0;
    const Pattern pattern = *rc::gen::element(Pattern::interrupted, Pattern::double_running);
    scenario.task = {pattern, *rc::gen::inRange(pattern == Pattern::interrupted ? 1 : 6, 65),
                     perhaps(0.1, 86400.0),
                     {between(0.0, 500.0), {Aid::clock, Aid::undo}}};
    scenario.pass = {perhaps(0.1, 100.0),  perhaps(0.1, 100.0),
                     perhaps(0.1, 150.0),  perhaps(0.1, 100.0),
                     perhaps(0.1, 1000.0), perhaps(0.1, 1000.0),
                     perhaps(0.01, 0.5),   perhaps(0.6, 1.0),
                     perhaps(0.01, 1.0),   perhaps(0.2, 1.0),
                     perhaps(1.1, 3.0),    perhaps(0.1, 90.0),
                     perhaps(0.1, 90.0),   perhaps(0.1, 90.0),
                     perhaps(0.1, 10.0),   static_cast<double>(*rc::gen::inRange(0, 1001))};
    // A question is asked about a closure (files/rules.h).
    if (scenario.kind != ScenarioKind::closure) {
        scenario.start.runs.clear();
        const auto in_place = std::count_if(scenario.start.bites.begin(), scenario.start.bites.end(),
                                            [](const Bite& bite) { return !bite.removed; });
        if (in_place < 3) scenario.kind = ScenarioKind::closure;
    }
    return scenario;
}

}  // namespace graftwright::test
