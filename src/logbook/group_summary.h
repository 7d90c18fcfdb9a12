// What a teacher wants to know of a group: who practises what, where points go, which bite is worst.
//
// Plain data, from all attempts of a logbook. Means are over attempts that have the number. Shares (score/
// scorecard.h) say what one bite alone costs; only attempts scored with shares count for them. Order of
// tying is what numbers a bite.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "logbook/cusum.h"
#include "logbook/skills.h"
#include "score/rules.h"

namespace graftwright {

struct PracticeRow {
    std::string trainee, scenario;
    long long attempts = 0, passed = 0;
    std::string last_utc;
    std::optional<double> mean_total, best_total;
};

struct PartLoss {
    Part part = Part::optics;
    double earned = 0.0, of = 0.0;  // means, points
    [[nodiscard]] double lost() const { return of - earned; }
};

struct LossRow {
    std::string scenario;         // "": all together
    long long attempts = 0;       // with a score
    std::vector<PartLoss> parts;  // those that were asked for
};

struct FlagCount {
    std::string flag;  // as in score/bite_metrics.h
    long long bites = 0;
};

struct BiteNumberRow {
    int bite = 1;
    long long bites = 0, flagged = 0;
    long long shares = 0;  // bites with a share
    std::optional<double> mean_share_D, mean_share_leak_mmHg;
};

struct SkillRow {
    const SkillInfo* info = nullptr;
    long long trials = 0, failures = 0;
    // Trainees by where their learning curve stands.
    long long competent = 0, undecided = 0, below_standard = 0;
};

struct GroupSummary {
    long long attempts = 0;
    std::string first_utc, last_utc;
    std::vector<std::string> trainees;  // as shown: names or pseudonyms, in order
    std::vector<PracticeRow> practice;  // by trainee, then level
    std::vector<LossRow> losses;        // all together first, then by level
    std::vector<FlagCount> flags;       // the most frequent first
    long long bites = 0;                // that the flags were looked for in
    std::vector<BiteNumberRow> bite_numbers;
    std::optional<int> worst_bite;  // largest mean share of at least kLeastShares bites
    std::vector<SkillRow> skills;
    CusumRates rates;
    bool anonymous = false;
};

// Fewer shares than this say nothing about a bite number.
inline constexpr long long kLeastShares = 5;

}  // namespace graftwright
