// Entries made up for tests and benchmarks: numbers that look like a trainee getting better, no mechanics.
#pragma once

#include <cmath>
#include <string>

#include "logbook/digest.h"
#include "logbook/entry.h"
#include "logbook/skills.h"

namespace graftwright::test {

// "2026-01-01T00:00:00Z" and so many minutes, within a month.
[[nodiscard]] inline std::string minutes_after_new_year(int minutes) {
    char text[32];
    std::snprintf(text, sizeof text, "2026-%02d-%02dT%02d:%02d:00Z", 1 + minutes / 40320 % 12, 1 + minutes / 1440 % 28,
                  minutes / 60 % 24, minutes % 60);
    return text;
}

// The n-th attempt of somebody: n decides every number.
[[nodiscard]] inline Entry made_entry(int n, const std::string& trainee = "Ilse Brandt",
                                      const std::string& scenario = "sixteen", int bites = 16) {
    Entry entry;
    entry.trainee = trainee;
    entry.scenario = scenario;
    entry.scenario_hash = sha256_hex(scenario);
    entry.program = "0.1.0";
    entry.at_utc = minutes_after_new_year(n);
    entry.bites = bites;
    entry.converged = true;
    const double skill = 1.0 - std::exp(-n / 40.0), wave = std::sin(1.7 * n);
    at(entry.measures, Metric::total) = 45.0 + 45.0 * skill + 4.0 * wave;
    at(entry.measures, Metric::optics) = 10.0 + 20.0 * skill + 2.0 * wave;
    at(entry.measures, Metric::optics_of) = 35.0;
    at(entry.measures, Metric::seal) = 20.0 + 9.0 * skill;
    at(entry.measures, Metric::seal_of) = 30.0;
    at(entry.measures, Metric::technique) = 12.0 + 6.0 * skill;
    at(entry.measures, Metric::technique_of) = 20.0;
    at(entry.measures, Metric::cylinder_D) = 6.0 - 4.0 * skill - wave;
    at(entry.measures, Metric::depth_mean) = 0.86 + 0.04 * skill;
    at(entry.measures, Metric::depth_spread) = 0.08 - 0.05 * skill;
    at(entry.measures, Metric::tension_spread) = 0.4 - 0.2 * skill;
    entry.passed = *at(entry.measures, Metric::cylinder_D) <= 3.0;
    Outcomes outcomes;
    outcomes[static_cast<std::size_t>(Skill::depth)] = n % 10 != 3;
    outcomes[static_cast<std::size_t>(Skill::optics)] = entry.passed;
    outcomes[static_cast<std::size_t>(Skill::closure)] = entry.passed;
    entry.skills = letters_of(outcomes);
    for (int b = 1; b <= bites; ++b) {
        BiteRow row;
        row.bite = b;
        row.tension_mN = 15.0 + 3.0 * std::sin(n + 2.0 * b) * (1.2 - skill);
        row.share_D = (b == 2 ? 1.5 : 0.2) * (1.2 - skill);
        row.share_leak_mmHg = 0.1 * b;
        row.depth_fraction_graft = 0.88 + 0.06 * std::sin(n * b) * (1.2 - skill);
        row.depth_fraction_host = 0.90;
        row.spacing_error_deg = 4.0 * std::cos(n + b) * (1.2 - skill);
        row.flags = b == 2 ? "not-radial off-slot" : "";
        entry.per_bite.push_back(row);
    }
    entry.attempt_text = "{ \"format\": \"graftwright-attempt\", \"version\": 1, \"scenario\": \"" + scenario +
                         "\", \"started\": \"" + entry.at_utc +
                         "\", \"bites\": [ { \"graft_deg\": " + std::to_string(n % 360) + " } ] }\n";
    entry.id = sha256_hex(entry.attempt_text + trainee);
    return entry;
}

}  // namespace graftwright::test
