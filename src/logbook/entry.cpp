#include "logbook/entry.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "files/writer.h"
#include "logbook/digest.h"
#include "logbook/skills.h"
#include "score/bite_words.h"

namespace graftwright {
namespace {

constexpr std::size_t kLongestName = 200;  // characters, as in the attempt's schema

// The length of the character at i, well-formed UTF-8 and no control character; 0: it is none.
std::size_t character_at(const std::string& text, std::size_t i) {
    const auto byte = [&](std::size_t k) { return k < text.size() ? static_cast<unsigned char>(text[k]) : 0U; };
    const unsigned first = byte(i);
    const std::size_t length = first < 0x80 ? 1 : first < 0xC2 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
    if (length == 0 || first > 0xF4) return 0;
    unsigned code = length == 1 ? first : first & (0x7FU >> length);
    for (std::size_t k = 1; k < length; ++k) {
        if ((byte(i + k) & 0xC0U) != 0x80U) return 0;
        code = code << 6 | (byte(i + k) & 0x3FU);
    }
    const bool overlong = (length == 3 && code < 0x800) || (length == 4 && code < 0x10000);
    if (overlong || code > 0x10FFFF || (code >= 0xD800 && code < 0xE000)) return 0;
    return code < 0x20 || (code >= 0x7F && code < 0xA0) ? 0 : length;
}

// −1 where not everything is a character.
long characters_in(const std::string& text) {
    long count = 0;
    for (std::size_t i = 0; i < text.size(); ++count) {
        const std::size_t length = character_at(text, i);
        if (length == 0) return -1;
        i += length;
    }
    return count;
}

// "2026-03-01T09:30:00Z", with or without a fraction of the second; the fraction is dropped.
std::optional<std::string> utc_of(const std::string& started) {
    static constexpr std::string_view kShape = "dddd-dd-ddTdd:dd:dd";
    if (started.size() <= kShape.size() || started.back() != 'Z') return std::nullopt;
    const auto digit = [](char c) { return c >= '0' && c <= '9'; };
    for (std::size_t i = 0; i < kShape.size(); ++i)
        if (kShape[i] == 'd' ? !digit(started[i]) : started[i] != kShape[i]) return std::nullopt;
    const std::string rest = started.substr(kShape.size(), started.size() - kShape.size() - 1);
    if (!rest.empty() && (rest.size() < 2 || rest[0] != '.' || !std::all_of(rest.begin() + 1, rest.end(), digit)))
        return std::nullopt;
    const auto two = [&](std::size_t i) { return (started[i] - '0') * 10 + started[i + 1] - '0'; };
    if (two(5) < 1 || two(5) > 12 || two(8) < 1 || two(8) > 31 || two(11) > 23 || two(14) > 59 || two(17) > 60)
        return std::nullopt;
    return started.substr(0, kShape.size()) + "Z";
}

std::optional<double> finite(double value) { return std::isfinite(value) ? std::optional(value) : std::nullopt; }

double mean(const std::vector<double>& values) {
    double sum = 0.0;
    for (const double value : values) sum += value;
    return sum / static_cast<double>(values.size());
}

// About the mean, or about zero; n in the denominator: the bites of a closure are all there are.
std::optional<double> spread(const std::vector<double>& values, double about) {
    if (values.empty()) return std::nullopt;
    double sum = 0.0;
    for (const double value : values) sum += (value - about) * (value - about);
    return finite(std::sqrt(sum / static_cast<double>(values.size())));
}

void set_marks(const Score& score, Measures& m) {
    at(m, Metric::total) = finite(score.total);
    double available = 0.0;
    for (const Rule& rule : score.rules) available += rule.points;
    for (const PartScore& part : score.parts) {
        if (!part.points) continue;
        double of = 0.0;
        for (const Rule& rule : score.rules) of += rule.part == part.part ? rule.points * 100.0 / available : 0.0;
        const auto place = static_cast<std::size_t>(part.part);
        m[static_cast<std::size_t>(Metric::optics) + place] = finite(*part.points);
        m[static_cast<std::size_t>(Metric::optics_of) + place] = finite(of);
    }
}
static_assert(static_cast<int>(Part::technique) == 3 && static_cast<int>(Metric::technique) == 4,
              "parts of the score stand in the same order as their metrics");

void set_closure(const Scorecard& card, Measures& m) {
    if (!card.converged()) return;
    const ClosureMeasures& attempt = card.attempt;
    at(m, Metric::cylinder_D) = finite(attempt.keratometry->cylinder_D);
    at(m, Metric::steep_axis_deg) = finite(attempt.keratometry->steep_axis_deg);
    at(m, Metric::mean_D) = finite(attempt.keratometry->mean_D);
    at(m, Metric::hoa_rms_um) = attempt.hoa_rms_um;
    at(m, Metric::leak_pressure_mmHg) = finite(attempt.wound.leak_pressure_mmHg);
    at(m, Metric::max_step_um) = finite(max_step_um(attempt));
    at(m, Metric::max_posterior_gape_um) = finite(max_posterior_gape_um(attempt));
    if (!card.ideal) return;
    at(m, Metric::flattening_D) = finite(card.ideal->keratometry->mean_D - attempt.keratometry->mean_D);
    at(m, Metric::ideal_cylinder_D) = finite(card.ideal->keratometry->cylinder_D);
    at(m, Metric::ideal_leak_pressure_mmHg) = finite(card.ideal->wound.leak_pressure_mmHg);
}

// single_bites: of the attempt. Knots are compared with knots: a running thread has one, and its tension differs
// from bite to bite by friction and not by the hand's.
void set_hand(const std::vector<BiteRow>& rows, std::size_t single_bites, Measures& m) {
    std::vector<double> depths, spacings, radials, tensions;
    for (const BiteRow& row : rows) {
        if (row.removed()) continue;
        if (row.depth_fraction_graft) depths.push_back(*row.depth_fraction_graft);
        if (row.depth_fraction_host) depths.push_back(*row.depth_fraction_host);
        if (row.spacing_error_deg) spacings.push_back(*row.spacing_error_deg);
        if (row.radial_error_deg) radials.push_back(*row.radial_error_deg);
        if (row.tension_mN && static_cast<std::size_t>(row.bite) <= single_bites) tensions.push_back(*row.tension_mN);
    }
    // One bite has no spread.
    if (!depths.empty()) at(m, Metric::depth_mean) = finite(mean(depths));
    if (depths.size() > 2) at(m, Metric::depth_spread) = spread(depths, mean(depths));
    if (spacings.size() > 1) at(m, Metric::spacing_spread_deg) = spread(spacings, mean(spacings));
    at(m, Metric::radial_error_deg) = spread(radials, 0.0);
    if (tensions.size() > 1 && mean(tensions) > 0.0)
        at(m, Metric::tension_spread) = *spread(tensions, mean(tensions)) / mean(tensions);
}

// The hand's bites, not the level's own.
std::vector<BiteRow> bite_rows(const Scenario& scenario, const Scorecard& card, const std::vector<Run>& runs) {
    std::vector<BiteRow> rows;
    for (const std::size_t b : bites_of_the_hand(scenario.start, card.bites.size(), runs)) {
        const BiteMetrics& metrics = card.bites[b];
        BiteRow row;
        row.bite = static_cast<int>(b) + 1;
        if (card.converged()) row.tension_mN = finite(card.attempt.tension_mN[b]);
        if (card.shares[b]) {
            row.share_D = finite(card.shares[b]->share_D);
            row.share_axis_deg = finite(card.shares[b]->share_axis_deg);
            row.share_leak_mmHg = finite(card.shares[b]->share_leak_mmHg);
        }
        row.depth_fraction_graft = finite(metrics.depth_fraction_graft);
        row.depth_fraction_host = finite(metrics.depth_fraction_host);
        row.radial_error_deg = finite(metrics.radial_error_deg);
        row.spacing_error_deg = finite(metrics.spacing_error_deg);
        row.bite_ratio = finite(metrics.bite_ratio);
        for (const BiteFlag flag : metrics.flags)
            row.flags += (row.flags.empty() ? "" : " ") + std::string(meaning_of(flag).name);
        rows.push_back(row);
    }
    return rows;
}

}  // namespace

std::string name_fault(const std::string& trainee) {
    const long count = characters_in(trainee);
    if (count < 0) return "a trainee's name is UTF-8 without control characters";
    if (count > static_cast<long>(kLongestName))
        return fmt::format("a trainee's name has at most {} characters, this one has {}", kLongestName, count);
    return "";
}

std::string nearest_name(const std::string& wanted) {
    std::string name;
    std::size_t count = 0;
    for (std::size_t i = 0; i < wanted.size() && count < kLongestName;) {
        const std::size_t length = character_at(wanted, i);
        name += wanted.substr(i, length);
        if (length > 0) ++count;
        i += std::max<std::size_t>(1, length);
    }
    return name;
}

Result<Entry> make_entry(const Scenario& scenario, const Attempt& attempt, const std::string& attempt_text,
                         const Scorecard& card, const EntryStamp& stamp, std::optional<bool> drill_passed) {
    if (const std::string fault = name_fault(attempt.trainee); !fault.empty()) return Fault{"logbook", 0, fault};
    Entry entry;
    entry.trainee = attempt.trainee;
    entry.scenario = scenario.id;
    entry.scenario_hash = sha256_hex(write_scenario(scenario));
    entry.id = sha256_hex(attempt_text + "\n" + entry.scenario_hash);
    entry.program = stamp.program;
    entry.at_utc = utc_of(attempt.started).value_or(stamp.entered_utc);
    entry.bites = static_cast<int>(card.bite_count);
    entry.converged = card.converged();
    entry.passed = drill_passed.value_or(card.score && card.score->passed);
    // A drill's verdict is about one skill; marks for the rest of an unfinished closure would say nothing.
    if (card.score && scenario.kind == ScenarioKind::closure) set_marks(*card.score, entry.measures);
    set_closure(card, entry.measures);
    entry.per_bite = bite_rows(scenario, card, attempt.runs);
    std::size_t running = 0;
    for (const Run& run : attempt.runs) running += run.bites.size();
    set_hand(entry.per_bite, card.bites.size() - std::min(running, card.bites.size()), entry.measures);
    entry.skills = letters_of(judge_skills(scenario, card, attempt.runs));
    entry.attempt_text = attempt_text;
    return entry;
}

}  // namespace graftwright
