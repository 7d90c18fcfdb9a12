// What a trainee's page and a group's summary say, against numbers counted by hand.
#include <algorithm>

#include "backends.h"
#include "made_entries.h"

using namespace graftwright;
using namespace graftwright::test;

namespace {

const MetricCurve& curve_of(const TraineePage& page, Metric metric) {
    return *std::find_if(page.metrics.begin(), page.metrics.end(),
                         [&](const MetricCurve& curve) { return curve.info->metric == metric; });
}
const SkillCurve& skill_of(const TraineePage& page, Skill skill) {
    return page.skills[static_cast<std::size_t>(skill)];
}

// Attempt n of a trainee with this total and these outcomes.
Entry simple(int n, const std::string& trainee, std::optional<double> total, const std::string& skills,
             const std::string& scenario = "sixteen") {
    Entry entry = made_entry(n, trainee, scenario, 2);
    entry.measures = {};
    at(entry.measures, Metric::total) = total;
    entry.skills = skills;
    entry.passed = total && *total >= 80.0;
    return entry;
}

}  // namespace

ON_EVERY_BACK_END("a trainee's page has the curve, the level, the best and the learning curves") {
    Logbook logbook = opened(backend.fresh());
    // Entered out of order: time orders them.
    const double totals[] = {40, 50, 45, 60, 90, 70, 65, 75, 80, 85, 70, 72};
    for (const int n : {3, 0, 1, 2, 5, 4, 6, 7, 8, 9, 11, 10})
        REQUIRE(logbook.add(simple(n, "Ilse", totals[n], n < 4 ? "-......." : "+-......")));
    REQUIRE(logbook.add(simple(12, "Ilse", std::nullopt, "........", "four")));
    REQUIRE(logbook.add(simple(1, "Odo", 99.0, "++++++++")));

    TraineePageOptions options;
    options.scenario = "sixteen";
    options.level_attempts = 5;
    const TraineePage page = logbook.trainee_page("Ilse", options);
    CHECK(page.attempts_in_all == 12);
    REQUIRE(page.attempts.size() == 12);
    CHECK(page.attempts.front().at_utc == minutes_after_new_year(0));
    CHECK(page.attempts[4].passed);
    const MetricCurve& total = curve_of(page, Metric::total);
    for (std::size_t i = 0; i < 12; ++i) CHECK(total.values[i] == totals[i]);
    CHECK(total.best == 90.0);
    CHECK(total.level == 75.0);         // of 75 80 85 70 72
    CHECK(total.level_before == 65.0);  // of 45 60 90 70 65
    CHECK_FALSE(curve_of(page, Metric::cylinder_D).best);
    CHECK_FALSE(curve_of(page, Metric::cylinder_D).level);
    CHECK(skill_of(page, Skill::depth).cusum.trials() == 12);
    CHECK(skill_of(page, Skill::depth).cusum.failures() == 4);
    CHECK(skill_of(page, Skill::length).cusum.trials() == 8);
    CHECK(skill_of(page, Skill::closure).cusum.standing() == Standing::no_trials);
    CHECK(page.levels.size() == 2);
    CHECK(page.competence_words.find("certifies nobody") != std::string::npos);

    options.scenario.clear();
    options.most_attempts = 3;
    const TraineePage latest = logbook.trainee_page("Ilse", options);
    CHECK(latest.attempts_in_all == 13);
    REQUIRE(latest.attempts.size() == 3);
    CHECK(latest.attempts.back().scenario == "four");
    CHECK(curve_of(latest, Metric::total).best == 90.0);  // of all, not of the three
    CHECK(skill_of(latest, Skill::depth).cusum.trials() == 12);
}

ON_EVERY_BACK_END("a trainee's page has the hand's own spread, and lower is better where it is") {
    Logbook logbook = opened(backend.fresh());
    Entry entry = made_entry(1, "Ilse", "sixteen", 3);
    const double depths[] = {0.80, 0.90, 0.94}, tensions[] = {12.0, 15.0, 18.0};
    for (std::size_t b = 0; b < 3; ++b) {
        entry.per_bite[b].depth_fraction_graft = depths[b];
        entry.per_bite[b].tension_mN = tensions[b];
        entry.per_bite[b].flags = b == 2 ? "removed" : b == 1 ? "tight" : "";
    }
    REQUIRE(logbook.add(entry));
    Entry better = made_entry(2, "Ilse", "sixteen", 3);
    at(better.measures, Metric::cylinder_D) = 0.5;
    better.per_bite.clear();
    REQUIRE(logbook.add(better));
    const TraineePage page = logbook.trainee_page("Ilse");
    REQUIRE(page.spots.size() == 2);  // the bite that was cut out is no spot
    CHECK(page.spots[0].attempt == 0);
    CHECK(page.spots[1].flagged);
    CHECK(page.spots[1].order == 0.5);
    CHECK(page.depth_graft.n == 2);
    CHECK(*page.depth_graft.mean == Approx(0.85));
    CHECK(*page.depth_graft.deviation == Approx(0.05));
    CHECK(*page.tension_mN.mean == Approx(13.5));
    CHECK(curve_of(page, Metric::cylinder_D).best == 0.5);
}

ON_EVERY_BACK_END("how far a trainee got with each level: attempts, whether ever passed, and the best total") {
    Logbook logbook = opened(backend.fresh());
    for (int n = 0; n < 3; ++n) REQUIRE(logbook.add(simple(n, "Ilse", 70.0 + 10.0 * (n % 2), "........")));
    REQUIRE(logbook.add(simple(3, "Ilse", 40.0, "........", "eight")));
    Entry drill = simple(4, "Ilse", std::nullopt, "+.......", "depth-alone");
    drill.passed = true;
    REQUIRE(logbook.add(drill));
    REQUIRE(logbook.add(simple(5, "Odo", 99.0, "........", "eight")));
    const std::vector<LevelCount> levels = logbook.levels_of("Ilse");
    REQUIRE(levels.size() == 3);
    CHECK(levels[0].scenario == "depth-alone");
    CHECK(levels[0].passed == 1);
    CHECK_FALSE(levels[0].best_total);
    CHECK(levels[1].best_total == 40.0);
    CHECK(levels[1].passed == 0);
    CHECK(levels[2].attempts == 3);
    CHECK(levels[2].passed == 1);
    CHECK(levels[2].best_total == 80.0);
    CHECK(logbook.levels_of("nobody").empty());
}

ON_EVERY_BACK_END("a page of nobody is empty and no fault") {
    Logbook logbook = opened(backend.fresh());
    const TraineePage page = logbook.trainee_page("nobody");
    CHECK(page.attempts.empty());
    CHECK(page.attempts_in_all == 0);
    CHECK(page.skills.size() == kSkillCount);
    CHECK_FALSE(curve_of(page, Metric::total).best);
    const GroupSummary group = logbook.group_summary(false);
    CHECK(group.attempts == 0);
    CHECK(group.losses.empty());
    CHECK_FALSE(group.worst_bite);
}

ON_EVERY_BACK_END("a group's summary counts who practises what, where points go and which bite is worst") {
    Logbook logbook = opened(backend.fresh());
    for (int n = 0; n < 8; ++n)
        REQUIRE(logbook.add(made_entry(n, n < 5 ? "Ilse" : "Odo", n < 4 ? "sixteen" : "eight", 4)));
    const GroupSummary group = logbook.group_summary(false);
    CHECK(group.attempts == 8);
    CHECK(group.first_utc == minutes_after_new_year(0));
    CHECK(group.last_utc == minutes_after_new_year(7));
    CHECK(group.trainees == std::vector<std::string>{"Ilse", "Odo"});
    REQUIRE(group.practice.size() == 3);
    CHECK(group.practice[0].scenario == "eight");
    CHECK(group.practice[0].attempts == 1);
    CHECK(group.practice[1].attempts == 4);
    REQUIRE(group.losses.size() == 3);
    CHECK(group.losses[0].scenario.empty());
    CHECK(group.losses[0].attempts == 8);
    REQUIRE(group.losses[0].parts.size() == 3);  // apposition was not asked for
    double optics = 0.0;
    for (int n = 0; n < 8; ++n) optics += *at(made_entry(n).measures, Metric::optics) / 8;
    CHECK(group.losses[0].parts[0].earned == Approx(optics));
    CHECK(group.losses[0].parts[0].lost() == Approx(35.0 - optics));
    CHECK(group.bites == 32);
    REQUIRE(group.flags.size() == 2);
    CHECK(group.flags[0].bites == 8);
    REQUIRE(group.bite_numbers.size() == 4);
    CHECK(group.bite_numbers[1].flagged == 8);
    CHECK(group.worst_bite == 2);
    CHECK(group.skills[0].trials == 8);
    CHECK(group.skills[0].failures == 1);
    CHECK(group.skills[0].undecided == 2);
}

ON_EVERY_BACK_END("a few bites with a share make no worst bite") {
    Logbook logbook = opened(backend.fresh());
    for (int n = 0; n < 4; ++n) REQUIRE(logbook.add(made_entry(n, "Ilse", "sixteen", 4)));
    CHECK_FALSE(logbook.group_summary(false).worst_bite);
}
