// What a level asks for: its kind against its start, one mark against another.
#include <algorithm>

#include <fmt/format.h>

#include "files/limits.h"
#include "files/rules.h"
#include "files/schema_words.h"

namespace graftwright {

// A question about a closure needs one; a pair of limits needs room between them.
Findings rules_of_task(const Scenario& scenario) {
    Findings findings;
    const auto in_place = static_cast<std::size_t>(std::count_if(
        scenario.start.bites.begin(), scenario.start.bites.end(), [](const Bite& bite) { return !bite.removed; }));
    const bool question = scenario.kind == ScenarioKind::read_rings || scenario.kind == ScenarioKind::find_leak ||
                          scenario.kind == ScenarioKind::remove;
    if (question && (in_place < kLeastBitesOfAQuestion || !scenario.start.runs.empty()))
        findings.push_back({"/kind",
                            fmt::format("kind asks a question about a closure, expected start.bites with at least {} "
                                        "bites in place and no start.runs",
                                        kLeastBitesOfAQuestion),
                            false,
                            {},
                            {"/kind", "/start", "/start/bites", "/start/runs"}});
    // Half of a combined or double-running task is a run of its own, and a run of fewer than three goes round nothing.
    const std::size_t runs_of_task = scenario.task.pattern == Pattern::interrupted ? 0
                                     : scenario.task.pattern == Pattern::running   ? 1
                                                                                   : 2;
    const std::size_t least = runs_of_task * kLeastBitesOfARun;
    if (static_cast<std::size_t>(scenario.task.bites) < least)
        findings.push_back(
            {"/task/bites",
             fmt::format("task.bites is {}, expected at least {} for this task.pattern", scenario.task.bites, least),
             false,
             {},
             {"/task/bites", "/task/pattern"}});
    const auto ordered = [&](const char* low_key, const char* high_key, std::optional<double> low,
                             std::optional<double> high) {
        if (!low || !high || *low < *high) return;
        findings.push_back({below("/pass", low_key),
                            fmt::format("pass.{} is {}, expected less than {}, {}", low_key, number_words(*low),
                                        high_key, number_words(*high)),
                            false,
                            {},
                            {below("/pass", low_key), below("/pass", high_key)}});
    };
    const PassMarks& pass = scenario.pass;
    ordered("least_depth_fraction", "most_depth_fraction", pass.least_depth_fraction, pass.most_depth_fraction);
    ordered("least_bite_mm", "most_bite_mm", pass.least_bite_mm, pass.most_bite_mm);
    return findings;
}

}  // namespace graftwright
