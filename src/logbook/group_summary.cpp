#include "logbook/group_summary.h"

#include <algorithm>
#include <map>
#include <sstream>

#include <soci/soci.h>

#include "logbook/pages.h"
#include "score/bite_metrics.h"

namespace graftwright {
namespace {

std::optional<double> number(double value, soci::indicator is) {
    return is == soci::i_ok ? std::optional(value) : std::nullopt;
}

void read_extent(soci::session& session, GroupSummary& summary) {
    soci::indicator first = soci::i_null, last = soci::i_null;
    session << "SELECT count(*), min(at_utc), max(at_utc) FROM graftwright_attempt", soci::into(summary.attempts),
        soci::into(summary.first_utc, first), soci::into(summary.last_utc, last);
}

void read_practice(soci::session& session, const std::function<std::string(const std::string&)>& shown,
                   GroupSummary& summary) {
    PracticeRow row;
    double mean = 0.0, best = 0.0;
    soci::indicator has_mean = soci::i_null, has_best = soci::i_null;
    soci::statement each =
        (session.prepare << "SELECT trainee, scenario, count(*), sum(passed), max(at_utc), avg(total), max(total) "
                            "FROM graftwright_attempt GROUP BY trainee, scenario",
         soci::into(row.trainee), soci::into(row.scenario), soci::into(row.attempts), soci::into(row.passed),
         soci::into(row.last_utc), soci::into(mean, has_mean), soci::into(best, has_best));
    each.execute();
    while (each.fetch()) {
        row.mean_total = number(mean, has_mean);
        row.best_total = number(best, has_best);
        summary.practice.push_back(row);
        summary.practice.back().trainee = shown(row.trainee);
    }
    // By what is shown: an order by name would tell of the names behind pseudonyms.
    std::sort(summary.practice.begin(), summary.practice.end(), [](const PracticeRow& a, const PracticeRow& b) {
        return std::tie(a.trainee, a.scenario) < std::tie(b.trainee, b.scenario);
    });
    for (const PracticeRow& each_row : summary.practice)
        if (summary.trainees.empty() || summary.trainees.back() != each_row.trainee)
            summary.trainees.push_back(each_row.trainee);
}

constexpr std::array<Part, 4> kParts{Part::optics, Part::seal, Part::apposition, Part::technique};

// Points earned and on offer, part by part; scenario as the query's first column.
void read_losses(soci::session& session, const std::string& query, GroupSummary& summary) {
    LossRow row;
    std::array<double, 4> earned{}, of{};
    std::array<soci::indicator, 4> has_earned{}, has_of{};
    soci::statement each(session);
    each.exchange(soci::into(row.scenario));
    each.exchange(soci::into(row.attempts));
    for (std::size_t p = 0; p < kParts.size(); ++p) {
        each.exchange(soci::into(earned[p], has_earned[p]));
        each.exchange(soci::into(of[p], has_of[p]));
    }
    each.alloc();
    each.prepare(query);
    each.define_and_bind();
    each.execute();
    while (each.fetch()) {
        if (row.attempts == 0) continue;
        row.parts.clear();
        for (std::size_t p = 0; p < kParts.size(); ++p)
            if (has_earned[p] == soci::i_ok && has_of[p] == soci::i_ok)
                row.parts.push_back({kParts[p], earned[p], of[p]});
        summary.losses.push_back(row);
    }
}

void read_all_losses(soci::session& session, GroupSummary& summary) {
    const std::string columns =
        "count(*), avg(optics), avg(optics_of), avg(seal), avg(seal_of), avg(apposition), avg(apposition_of), "
        "avg(technique), avg(technique_of) FROM graftwright_attempt WHERE total IS NOT NULL";
    read_losses(session, "SELECT '', " + columns, summary);
    read_losses(session, "SELECT scenario, " + columns + " GROUP BY scenario ORDER BY scenario", summary);
}

void read_flags(soci::session& session, GroupSummary& summary) {
    std::string flags;
    long long bites = 0;
    std::map<std::string, long long> counts;
    soci::statement each = (session.prepare << "SELECT flags, count(*) FROM graftwright_bite GROUP BY flags",
                            soci::into(flags), soci::into(bites));
    each.execute();
    while (each.fetch()) {
        summary.bites += bites;
        std::istringstream words(flags);
        for (std::string flag; words >> flag;) counts[flag] += bites;
    }
    for (const auto& [flag, count] : counts)
        if (flag_named(flag) != BiteFlag::removed) summary.flags.push_back({flag, count});
    std::stable_sort(summary.flags.begin(), summary.flags.end(),
                     [](const FlagCount& a, const FlagCount& b) { return a.bites > b.bites; });
}

void read_bite_numbers(soci::session& session, GroupSummary& summary) {
    BiteNumberRow row;
    double share = 0.0, leak = 0.0;
    soci::indicator has_share = soci::i_null, has_leak = soci::i_null;
    soci::statement each =
        (session.prepare << "SELECT bite, count(*), sum(CASE WHEN flags = '' THEN 0 ELSE 1 END), count(share_D), "
                            "avg(share_D), avg(share_leak_mmHg) FROM graftwright_bite GROUP BY bite ORDER BY bite",
         soci::into(row.bite), soci::into(row.bites), soci::into(row.flagged), soci::into(row.shares),
         soci::into(share, has_share), soci::into(leak, has_leak));
    each.execute();
    double worst = 0.0;
    while (each.fetch()) {
        row.mean_share_D = number(share, has_share);
        row.mean_share_leak_mmHg = number(leak, has_leak);
        summary.bite_numbers.push_back(row);
        if (row.shares >= kLeastShares && row.mean_share_D && *row.mean_share_D > worst) {
            worst = *row.mean_share_D;
            summary.worst_bite = row.bite;
        }
    }
}

// One trainee's learning curves, counted into the group's.
class SkillCounter {
  public:
    SkillCounter(GroupSummary& summary, const CusumRates& rates) : summary_(summary), rates_(rates) {
        for (const SkillInfo& info : kSkills) summary_.skills.push_back({&info});
        begin();
    }
    void add(const std::string& letters) {
        for (std::size_t s = 0; s < kSkillCount; ++s)
            if (const std::optional<bool> outcome = outcome_in(letters, kSkills[s].skill)) cusums_[s].add(*outcome);
    }
    void finish_trainee() {
        for (std::size_t s = 0; s < kSkillCount; ++s) {
            SkillRow& row = summary_.skills[s];
            row.trials += static_cast<long long>(cusums_[s].trials());
            row.failures += static_cast<long long>(cusums_[s].failures());
            if (cusums_[s].standing() == Standing::competent) ++row.competent;
            if (cusums_[s].standing() == Standing::undecided) ++row.undecided;
            if (cusums_[s].standing() == Standing::below_standard) ++row.below_standard;
        }
        begin();
    }

  private:
    void begin() { cusums_.assign(kSkillCount, Cusum(rates_)); }

    GroupSummary& summary_;
    CusumRates rates_;
    std::vector<Cusum> cusums_;
};

void read_skills(soci::session& session, const CusumRates& rates, GroupSummary& summary) {
    SkillCounter counter(summary, rates);
    std::optional<std::string> current;
    std::string trainee, letters;
    soci::statement each =
        (session.prepare << "SELECT trainee, skills FROM graftwright_attempt ORDER BY trainee, at_utc, entry",
         soci::into(trainee), soci::into(letters));
    each.execute();
    while (each.fetch()) {
        if (current && *current != trainee) counter.finish_trainee();
        current = trainee;
        counter.add(letters);
    }
    if (current) counter.finish_trainee();
}

}  // namespace

GroupSummary read_group_summary(soci::session& session, const CusumRates& rates,
                                const std::function<std::string(const std::string&)>& shown) {
    GroupSummary summary;
    summary.rates = rates;
    read_extent(session, summary);
    read_practice(session, shown, summary);
    read_all_losses(session, summary);
    read_flags(session, summary);
    read_bite_numbers(session, summary);
    read_skills(session, rates, summary);
    return summary;
}

}  // namespace graftwright
