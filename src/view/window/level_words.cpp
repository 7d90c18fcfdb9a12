#include "view/window/level_words.h"

#include <fmt/format.h>

#include "base/words.h"

namespace graftwright {

const char* kind_words(ScenarioKind kind) {
    switch (kind) {
        case ScenarioKind::closure:
            return "Whole closure";
        case ScenarioKind::depth:
            return "Drill: depth alone";
        case ScenarioKind::radial:
            return "Drill: radial bites";
        case ScenarioKind::opposite:
            return "Drill: opposite bites";
        case ScenarioKind::tension:
            return "Drill: even tension";
        case ScenarioKind::read_rings:
            return "Reading the rings";
        case ScenarioKind::find_leak:
            return "Finding a leak";
        case ScenarioKind::remove:
            return "Selective removal";
    }
    return "";
}

const char* pattern_words(Pattern pattern) {
    switch (pattern) {
        case Pattern::interrupted:
            return "interrupted";
        case Pattern::running:
            return "one running thread";
        case Pattern::double_running:
            return "two running threads";
        case Pattern::combined:
            return "single ones and a running thread";
    }
    return "";
}

std::string task_words(const Scenario& level) {
    std::string words = fmt::format("{}, {}", counted(level.task.bites, "bite"), pattern_words(level.task.pattern));
    // What is there already, in the same words as what is asked.
    const std::size_t bites = level.start.bites.size(), runs = level.start.runs.size();
    std::string placed = bites > 0 ? fmt::format("{}", bites) : "";
    if (runs > 0)
        placed += (bites > 0 ? " and " : "") +
                  (runs == 1 ? std::string("a running thread") : fmt::format("{} running threads", runs));
    if (!placed.empty()) words += ", " + placed + " already in place";
    if (level.task.time_limit_s) words += ", within " + counted(std::lround(*level.task.time_limit_s / 60.0), "minute");
    return words;
}

std::string pass_words(const Scenario& level) {
    const PassMarks& pass = level.pass;
    std::string words;
    if (level.kind == ScenarioKind::read_rings)
        words = "the bite that is unlike the others, and what it needs";
    else if (level.kind == ScenarioKind::find_leak)
        words = "the place of the leak within half an hour, and a repair";
    const auto add = [&](const std::optional<double>& limit, const char* form, double times = 1.0) {
        if (limit) words += (words.empty() ? "" : ", ") + fmt::format(fmt::runtime(form), *limit * times);
    };
    constexpr double kPercent = 100.0;
    add(pass.cylinder_D, "cylinder at most {:g} D");
    add(pass.flattening_D, "flattening at most {:g} D");
    add(pass.leak_pressure_mmHg, "no leak below {:g} mmHg");
    add(pass.hoa_rms_um, "irregularity at most {:g} µm");
    add(pass.step_um, "step at most {:g} µm");
    add(pass.posterior_gape_um, "gape at the back at most {:g} µm");
    add(pass.least_depth_fraction, "depth at least {:.0f} %", kPercent);
    add(pass.most_depth_fraction, "depth at most {:.0f} %", kPercent);
    add(pass.depth_difference, "both sides alike within {:.0f} %", kPercent);
    add(pass.least_bite_mm, "bites at least {:g} mm long");
    add(pass.most_bite_mm, "bites at most {:g} mm long");
    add(pass.radial_error_deg, "off the radius by {:g}° at most");
    add(pass.spacing_error_deg, "off its mark by {:g}° at most");
    add(pass.opposite_error_deg, "off opposite by {:g}° at most");
    add(pass.tension_range, "tensions within {:.0f} % of each other", kPercent);
    add(pass.trauma_count, "at most {:g} times rough with the tissue");
    return words.empty() ? "no limit is set" : words;
}

}  // namespace graftwright
