// The shipped course and how hands fare in it, for the test and for the printed table alike.
#pragma once

#include <algorithm>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "files/reader.h"
#include "study/study.h"

namespace graftwright::scenes {

// The shipped levels by their place in the course; throws where one can't be read.
[[nodiscard]] inline std::vector<Scenario> course(const std::string& levels_dir) {
    std::vector<Scenario> levels;
    for (const auto& entry : std::filesystem::directory_iterator(levels_dir)) {
        const std::string path = entry.path().string();
        if (!path.ends_with(".json") || path.ends_with(".schema.json")) continue;
        const Result<Scenario> read = read_scenario(read_text_file(path).value(), path);
        if (!read.ok()) throw std::runtime_error(read.faults().front().text());
        levels.push_back(read.value());
    }
    std::sort(levels.begin(), levels.end(), [](const Scenario& a, const Scenario& b) { return a.order < b.order; });
    return levels;
}

struct PassRates {
    int hands = 0;
    int expert_passed = 0, careless_passed = 0;
    // Closures: what the faultless hand's closure leaks at, and its cylinder; 0 elsewhere.
    double ideal_leak_mmHg = 0.0, ideal_cylinder_D = 0.0;
};

[[nodiscard]] inline PassRates pass_rates(const Scenario& level, int hands, int jobs) {
    const ScenarioModel model(level);
    StudyOptions options;
    options.trials = hands;
    options.seed = 2026;  // any; fixed so that the table can be printed again
    options.jobs = jobs;
    PassRates rates;
    rates.hands = hands;
    options.skill = expert_hand();
    rates.expert_passed = count_passed(run_study(model, options));
    options.skill = careless_hand();
    rates.careless_passed = count_passed(run_study(model, options));
    if (level.kind != ScenarioKind::closure) return rates;
    options.skill = faultless_hand();
    options.trials = 1;
    const Trial ideal = run_study(model, options).front();
    rates.ideal_leak_mmHg = ideal.leak_pressure_mmHg.value_or(0.0);
    rates.ideal_cylinder_D = ideal.cylinder_D.value_or(0.0);
    return rates;
}

}  // namespace graftwright::scenes
