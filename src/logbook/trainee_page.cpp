#include "logbook/trainee_page.h"

#include <algorithm>
#include <cmath>

#include <soci/soci.h>

#include "base/statistics.h"
#include "logbook/pages.h"
#include "logbook/rows.h"
#include "score/scenario_model.h"

namespace graftwright {
namespace {

// One attempt of the trainee, if it belongs to the selection, in the learning curves.
void count_in(const std::string& scenario, const std::string& letters, TraineePage& page) {
    if (!page.options.scenario.empty() && page.options.scenario != scenario) return;
    ++page.attempts_in_all;
    for (SkillCurve& skill : page.skills)
        if (const auto outcome = outcome_in(letters, skill.info->skill)) skill.cusum.add(*outcome);
}

// All of the trainee's outcomes, oldest first, out of the index alone.
void read_outcomes(soci::session& session, TraineePage& page) {
    for (const SkillInfo& info : kSkills) page.skills.push_back({&info, Cusum(page.options.rates)});
    // Many rows at a time: one by one, the calls between would cost more than the reading.
    constexpr std::size_t kRowsAtATime = 4096;
    std::vector<std::string> scenarios(kRowsAtATime), letters(kRowsAtATime);
    soci::statement rows = (session.prepare << "SELECT scenario, skills FROM graftwright_attempt"
                                               " WHERE trainee = :trainee ORDER BY at_utc, entry",
                            soci::use(page.trainee), soci::into(scenarios), soci::into(letters));
    rows.execute();
    while (rows.fetch()) {
        for (std::size_t i = 0; i < letters.size(); ++i) count_in(scenarios[i], letters[i], page);
        scenarios.resize(kRowsAtATime);
        letters.resize(kRowsAtATime);
    }
}

// The personal best of every metric that has a better way, in one pass over the trainee's attempts.
void read_bests(soci::session& session, TraineePage& page) {
    std::string columns;
    std::vector<MetricCurve*> asked;
    for (MetricCurve& curve : page.metrics) {
        if (curve.info->better == Better::neither) continue;
        columns += std::string(columns.empty() ? "" : ", ") + (curve.info->better == Better::higher ? "max(" : "min(") +
                   curve.info->column + ")";
        asked.push_back(&curve);
    }
    std::vector<double> values(asked.size());
    std::vector<soci::indicator> found(asked.size(), soci::i_null);
    const std::string& scenario = page.options.scenario;
    soci::statement one(session);
    for (std::size_t i = 0; i < asked.size(); ++i) one.exchange(soci::into(values[i], found[i]));
    one.exchange(soci::use(page.trainee));
    if (!scenario.empty()) one.exchange(soci::use(scenario));
    one.alloc();
    one.prepare("SELECT " + columns + " FROM graftwright_attempt WHERE trainee = :trainee" +
                (scenario.empty() ? "" : " AND scenario = :scenario"));
    one.define_and_bind();
    if (!one.execute(true)) return;
    for (std::size_t i = 0; i < asked.size(); ++i)
        if (found[i] == soci::i_ok) asked[i]->best = values[i];
}

// Median of the values among the last `most` attempts before `end`.
std::optional<double> median_of_latest(const std::vector<std::optional<double>>& values, std::size_t end,
                                       std::size_t most) {
    std::vector<double> latest;
    for (std::size_t i = end - std::min(end, most); i < end; ++i)
        if (values[i]) latest.push_back(*values[i]);
    if (latest.empty()) return std::nullopt;
    return median(latest);
}

void fill_curves(const std::vector<Entry>& entries, TraineePage& page) {
    for (const Entry& entry : entries) {
        page.attempts.push_back(
            {entry.number, entry.at_utc, entry.scenario, entry.bites, entry.converged, entry.passed});
    }
    const std::size_t count = entries.size(), most = page.options.level_attempts;
    for (const MetricInfo& info : kMetrics) {
        if (!info.curve) continue;
        MetricCurve curve;
        curve.info = &info;
        for (const Entry& entry : entries) curve.values.push_back(at(entry.measures, info.metric));
        curve.level = median_of_latest(curve.values, count, most);
        curve.level_before = median_of_latest(curve.values, count - std::min(count, most), most);
        page.metrics.push_back(std::move(curve));
    }
}

HandSpread spread_of(const std::vector<HandSpot>& spots, std::optional<double> HandSpot::*value) {
    HandSpread spread;
    double sum = 0.0, squares = 0.0;
    for (const HandSpot& spot : spots) {
        if (!(spot.*value)) continue;
        ++spread.n;
        sum += *(spot.*value);
    }
    if (spread.n == 0) return spread;
    spread.mean = sum / static_cast<double>(spread.n);
    for (const HandSpot& spot : spots)
        if (spot.*value) squares += (*(spot.*value) - *spread.mean) * (*(spot.*value) - *spread.mean);
    spread.deviation = std::sqrt(squares / static_cast<double>(spread.n));
    return spread;
}

void read_spots(soci::session& session, std::vector<Entry>& entries, TraineePage& page) {
    const std::size_t first = entries.size() - std::min(entries.size(), page.options.level_attempts);
    for (std::size_t a = first; a < entries.size(); ++a) {
        read_bites(session, entries[a]);
        const std::vector<BiteRow>& rows = entries[a].per_bite;
        for (std::size_t b = 0; b < rows.size(); ++b) {
            const BiteRow& row = rows[b];
            if (row.removed()) continue;
            const double place = rows.size() > 1 ? static_cast<double>(b) / static_cast<double>(rows.size() - 1) : 0.0;
            page.spots.push_back({a, row.bite, place, row.depth_fraction_graft, row.depth_fraction_host,
                                  row.spacing_error_deg, row.tension_mN, !row.flags.empty()});
        }
    }
    page.depth_graft = spread_of(page.spots, &HandSpot::depth_fraction_graft);
    page.depth_host = spread_of(page.spots, &HandSpot::depth_fraction_host);
    page.spacing_deg = spread_of(page.spots, &HandSpot::spacing_error_deg);
    page.tension_mN = spread_of(page.spots, &HandSpot::tension_mN);
}

}  // namespace

std::vector<LevelCount> read_levels_of(soci::session& session, const std::string& trainee) {
    std::vector<LevelCount> levels;
    LevelCount level;
    double best = 0.0;
    soci::indicator has_best = soci::i_null;
    soci::statement each =
        (session.prepare << "SELECT scenario, count(*), sum(passed), max(total) FROM graftwright_attempt"
                            " WHERE trainee = :trainee GROUP BY scenario ORDER BY scenario",
         soci::use(trainee), soci::into(level.scenario), soci::into(level.attempts), soci::into(level.passed),
         soci::into(best, has_best));
    each.execute();
    while (each.fetch()) {
        level.best_total = has_best == soci::i_ok ? std::optional(best) : std::nullopt;
        levels.push_back(level);
    }
    return levels;
}

TraineePage read_trainee_page(soci::session& session, const std::string& trainee, const TraineePageOptions& options) {
    TraineePage page;
    page.trainee = trainee;
    page.options = options;
    page.competence_words = competence_words(options.rates);
    page.levels = read_levels_of(session, trainee);
    read_outcomes(session, page);
    std::vector<Entry> entries =
        read_latest(session, trainee, options.scenario, static_cast<int>(options.most_attempts));
    std::reverse(entries.begin(), entries.end());
    fill_curves(entries, page);
    read_bests(session, page);
    read_spots(session, entries, page);
    return page;
}

}  // namespace graftwright
