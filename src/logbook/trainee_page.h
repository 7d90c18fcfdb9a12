// Everything a trainee's own page shows, as plain data: whoever draws it needs no database.
//
// Attempts stand oldest first, by the attempt's own time. Curves hold the latest `most_attempts` of them and
// have one value an attempt, empty where it has none. Learning curves (CUSUM) run over ALL attempts of the
// selection and so have an axis of their own: trials. Units as in metrics.h. "Competent" is explained by
// `competence_words`, which stands wherever the word does; the page certifies nobody.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "logbook/cusum.h"
#include "logbook/metrics.h"
#include "logbook/skills.h"

namespace graftwright {

struct TraineePageOptions {
    std::string scenario;             // a level's id; "": all levels together
    std::size_t most_attempts = 500;  // in the curves
    std::size_t level_attempts = 10;  // that the current level and the spreads are taken from
    CusumRates rates;
};

struct AttemptPoint {
    long long number = 0;
    std::string at_utc, scenario;
    int bites = 0;
    bool converged = false, passed = false;
};

struct MetricCurve {
    const MetricInfo* info = nullptr;
    std::vector<std::optional<double>> values;  // one an attempt
    std::optional<double> level;                // median of the latest `level_attempts`
    std::optional<double> level_before;         // median of as many before those
    std::optional<double> best;                 // of all attempts; empty where neither way is better
};

// One bite of a recent attempt: a dot in the hand's own scatter plots.
struct HandSpot {
    std::size_t attempt = 0;  // index into TraineePage::attempts
    int bite = 1;             // in tying order
    double order = 0.0;       // 0 first tied … 1 last tied
    std::optional<double> depth_fraction_graft, depth_fraction_host, spacing_error_deg, tension_mN;
    bool flagged = false;
};

struct HandSpread {
    std::size_t n = 0;
    std::optional<double> mean, deviation;  // standard deviation about the mean
};

struct SkillCurve {
    const SkillInfo* info = nullptr;
    Cusum cusum{CusumRates{}};
};

struct LevelCount {
    std::string scenario;
    long long attempts = 0, passed = 0;
    std::optional<double> best_total;  // of 100; empty: none had a score, as in drills
};

struct TraineePage {
    std::string trainee;
    TraineePageOptions options;
    long long attempts_in_all = 0;   // of the selection; the curves may hold fewer
    std::vector<LevelCount> levels;  // all of the trainee's, whatever the selection
    std::vector<AttemptPoint> attempts;
    std::vector<MetricCurve> metrics;                             // those of kMetrics with `curve`
    std::vector<HandSpot> spots;                                  // of the latest `level_attempts`
    HandSpread depth_graft, depth_host, spacing_deg, tension_mN;  // over the spots
    std::vector<SkillCurve> skills;                               // all of kSkills
    std::string competence_words;
};

}  // namespace graftwright
