// Simulated hands: valid attempts, the same whatever the threads and shards, errors as wide as they say.
#include "study/study.h"

#include <cmath>
#include <set>

#include <catch2/catch.hpp>

#include "../scenes/attempts.h"
#include "base/csv.h"
#include "course.h"
#include "files/writer.h"
#include "hand/tying_order.h"
#include "study/simulated_hand.h"
#include "study/study_csv.h"

using namespace graftwright;

namespace {

const std::string kStudyLevels = GRAFTWRIGHT_SOURCE_DIR "/levels";

Scenario four_bites() {
    Scenario scenario = scenes::standard_scenario();
    scenario.task.bites = 4;
    scenario.pass.leak_pressure_mmHg = 4.0;
    scenario.pass.step_um = 400.0;
    return scenario;
}

Attempt made(const Scenario& scenario, const HandSkill& skill, std::uint64_t trial) {
    RandomStream random(1, trial);
    return simulated_attempt(scenario, skill, random);
}

}  // namespace

TEST_CASE("study: every attempt of every hand at every level is a sound attempt file", "[study]") {
    for (const Scenario& level : scenes::course(kStudyLevels))
        for (const HandSkill& skill : {expert_hand(), careless_hand(), faultless_hand()})
            for (std::uint64_t trial = 1; trial <= 40; ++trial) {
                const Attempt attempt = made(level, skill, trial);
                const auto read = read_attempt_for(level, write_attempt(attempt), "simulated");
                if (!read.ok()) FAIL(level.id << ": " << read.faults().front().text());
                CHECK(read.value().bites.size() == attempt.bites.size());
            }
}

TEST_CASE("study: a faultless hand makes the ideal twin's closure", "[study]") {
    const Scenario scenario = scenes::standard_scenario();
    const Attempt attempt = made(scenario, faultless_hand(), 1);
    REQUIRE(attempt.bites.size() == 16);
    const std::vector<double> order = tying_order_deg(16);
    for (std::size_t b = 0; b < attempt.bites.size(); ++b) {
        CHECK(attempt.bites[b].host_deg == Approx(order[b]).margin(1e-9));
        CHECK(attempt.bites[b].graft_depth_um == Approx(0.92 * 550.0));
        CHECK(attempt.bites[b].tension_mN == 15.0);
    }
}

TEST_CASE("study: errors are as wide as the skill says", "[study]") {
    const Scenario scenario = scenes::standard_scenario();
    const HandSkill skill = expert_hand();
    double squares = 0.0, tension = 0.0;
    int count = 0;
    for (std::uint64_t trial = 1; trial <= 200; ++trial)
        for (const Bite& bite : made(scenario, skill, trial).bites) {
            squares += std::pow(bite.graft_bite_mm - skill.length_mm, 2);
            tension += std::pow(bite.tension_mN / skill.tension_mN - 1.0, 2);
            ++count;
        }
    CHECK(count == 3200);
    CHECK(std::sqrt(squares / count) == Approx(skill.length_sd_mm).epsilon(0.05));
    CHECK(std::sqrt(tension / count) == Approx(skill.tension_sd).epsilon(0.05));
}

TEST_CASE("study: tremor widens the errors, a time limit ends the attempt", "[study]") {
    Scenario scenario = scenes::standard_scenario();
    const auto spread = [&] {
        double sum = 0.0;
        for (std::uint64_t trial = 1; trial <= 50; ++trial)
            for (const Bite& bite : made(scenario, expert_hand(), trial).bites) sum += std::abs(bite.graft_skew_mm);
        return sum;
    };
    const double still = spread();
    scenario.task.hand.tremor_um = 80.0;
    CHECK(spread() > 1.5 * still);
    scenario.task.time_limit_s = 310.0;
    const std::size_t tied = made(scenario, expert_hand(), 1).bites.size();
    CHECK(tied >= 4);
    CHECK(tied <= 8);
}

TEST_CASE("study: a hand fills the slots that a start leaves open and redoes what it sees to be wrong", "[study]") {
    Scenario scenario = scenes::standard_scenario();
    scenario.task.bites = 8;
    scenario.start.bites = scenes::even_bites(scenario, 8);
    scenario.start.bites[1].host_deg = scenario.start.bites[1].graft_deg = 281.0;
    scenario.start.bites.pop_back();
    HandSkill sees = faultless_hand();
    const Attempt mended = made(scenario, sees, 1);
    REQUIRE(mended.bites.size() == 9);
    CHECK(mended.bites[1].removed);
    CHECK(mended.bites[1].removed_after == 7);
    CHECK(mended.bites[7].host_deg == Approx(270.0));
    sees.notices = 0.0;
    CHECK(made(scenario, sees, 1).bites.size() == 8);
}

TEST_CASE("study: the same trials whatever the jobs, and shards laid together are the whole", "[study][slow]") {
    const ScenarioModel model(four_bites(), scenes::coarse_options());
    StudyOptions options;
    options.trials = 7;
    const auto rows = [&](int jobs, int shard, int shards) {
        options.jobs = jobs;
        options.shard = shard;
        options.shards = shards;
        std::vector<std::string> all;
        for (const Trial& trial : run_study(model, options)) all.push_back(study_csv_row("x", options, trial));
        return all;
    };
    const std::vector<std::string> whole = rows(1, 1, 1);
    REQUIRE(whole.size() == 7);
    CHECK(rows(3, 1, 1) == whole);
    std::vector<std::string> joined;
    for (int part = 1; part <= 3; ++part)
        for (const std::string& row : rows(2, part, 3)) joined.push_back(row);
    CHECK(joined == whole);
    CHECK(std::set<std::string>(whole.begin(), whole.end()).size() == 7);
}

TEST_CASE("study: shards cover every trial once, also where there are more shards than trials", "[study]") {
    for (const int shards : {1, 2, 3, 7, 50}) {
        int next = 1;
        for (int part = 1; part <= shards; ++part) {
            const TrialRange range = trials_of_shard(20, part, shards);
            CHECK(range.first == next);
            next = range.end;
        }
        CHECK(next == 21);
    }
}

TEST_CASE("study: CSV fields are quoted where they must be, and rows are as wide as the header", "[study]") {
    CHECK(csv_field("plain") == "plain");
    CHECK(csv_field("a, b") == "\"a, b\"");
    CHECK(csv_field("say \"no\"") == "\"say \"\"no\"\"\"");
    const std::string header = study_csv_header();
    StudyOptions options;
    Trial trial;
    trial.number = 3;
    const std::string row = study_csv_row("x", options, trial);
    CHECK(std::count(header.begin(), header.end(), ',') == 21);
    CHECK(row.starts_with("x,expert,1,3,0,,,,,,,,,,,,,false,,,,Training only"));
    CHECK(row.ends_with("\r\n"));
}
