#include "app/logbook_tables.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/plain_text.h"
#include "base/words.h"

namespace graftwright {
namespace {

constexpr std::size_t kNameWidth = 24;
constexpr std::size_t kCourse = 40;  // latest attempts in a row of blocks

bool begins_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }

// Padded to so many characters; a longer text keeps its beginning and an ellipsis.
std::string padded(const std::string& text, std::size_t width) {
    std::size_t count = 0, cut = text.size();
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (!begins_character(text[i])) continue;
        if (count == width - 1) cut = i;
        ++count;
    }
    if (count > width) return text.substr(0, cut) + "…";
    return text + std::string(width - count, ' ');
}

std::string shown(const std::optional<double>& value, int decimals) {
    return value ? fmt::format("{:.{}f}", *value, decimals) : "–";
}

std::string name_of(const std::string& trainee) { return trainee.empty() ? "(no name)" : one_line(trainee); }

// One block a value, from the lowest to the highest of them; a dot where there is none.
std::string course(const std::vector<std::optional<double>>& values) {
    static constexpr const char* kBlocks[] = {"▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
    const std::size_t first = values.size() - std::min(values.size(), kCourse);
    double low = INFINITY, high = -INFINITY;
    for (std::size_t i = first; i < values.size(); ++i) {
        if (!values[i]) continue;
        low = std::min(low, *values[i]);
        high = std::max(high, *values[i]);
    }
    std::string out;
    for (std::size_t i = first; i < values.size(); ++i) {
        if (!values[i]) {
            out += "·";
            continue;
        }
        const double share = high > low ? (*values[i] - low) / (high - low) : 0.5;
        out += kBlocks[static_cast<std::size_t>(std::lround(7.0 * share))];
    }
    return out;
}

const char* word_of(Better better) {
    return better == Better::higher ? "higher" : better == Better::lower ? "lower" : "";
}

}  // namespace

std::string list_head() {
    return padded("when (UTC)", 22) + padded("trainee", kNameWidth) + padded("level", 20) +
           fmt::format("{:>6} {:>6}  {:<8} {:>10} {:>10}\n", "bites", "score", "passed", "cylinder D", "leak mmHg");
}

std::string list_line(const Entry& entry, const std::string& shown_name) {
    const auto number = [&](Metric metric) { return shown(at(entry.measures, metric), info(metric).decimals); };
    return padded(one_line(entry.at_utc), 22) + padded(name_of(shown_name), kNameWidth - 1) + " " +
           padded(one_line(entry.scenario), 19) + " " +
           fmt::format("{:>6} {:>6}  {:<8} {:>10} {:>10}\n", entry.bites, number(Metric::total),
                       entry.passed ? "yes" : "no", number(Metric::cylinder_D), number(Metric::leak_pressure_mmHg));
}

std::string curve_table(const TraineePage& page, const std::string& shown_name) {
    std::string out = fmt::format("{}: {}{}\n", name_of(shown_name), counted(page.attempts_in_all, "attempt"),
                                  page.options.scenario.empty() ? "" : " at " + one_line(page.options.scenario));
    out += fmt::format("  {:<20} {:<13} {:>8} {:>8} {:>8}  {:<7} {}\n", "metric", "unit", "level", "before", "best",
                       "better", "latest attempts");
    for (const MetricCurve& curve : page.metrics) {
        const MetricInfo& metric = *curve.info;
        out += fmt::format("  {:<20} {:<13} {:>8} {:>8} {:>8}  {:<7} {}\n", metric.name, name_of(metric.unit),
                           shown(curve.level, metric.decimals), shown(curve.level_before, metric.decimals),
                           shown(curve.best, metric.decimals), word_of(metric.better), course(curve.values));
    }
    out += fmt::format("  level: median of the latest {}; before: of as many before those\n",
                       counted(page.options.level_attempts, "attempt"));
    out += fmt::format("  {:<12} {:>7} {:>9} {:>8} {:>8}\n", "skill", "trials", "failures", "CUSUM", "line");
    for (const SkillCurve& skill : page.skills) {
        const Cusum& cusum = skill.cusum;
        out += fmt::format("  {:<12} {:>7} {:>9} {:>8.2f} {:>8.2f}  {}\n", skill.info->name, cusum.trials(),
                           cusum.failures(), cusum.value(), -cusum.constants().h0, standing_words(cusum.standing()));
    }
    return out;
}

}  // namespace graftwright
