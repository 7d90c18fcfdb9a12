// Simulated experts: the shipped clouds are what their generator makes, and fit the level they are shown with.
#include "report/experts.h"

#include <filesystem>

#include <fstream>
#include <sstream>

#include <catch2/catch.hpp>

#include "files/reader.h"

using namespace graftwright;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

namespace {

const std::string kLevels = std::string(GRAFTWRIGHT_SOURCE_DIR) + "/levels";

Scenario level(const std::string& id) {
    const auto read = find_scenario(id, kLevels + "/x.json", kLevels);
    REQUIRE(read.ok());
    return read.value();
}

}  // namespace

TEST_CASE("experts: rows of the shipped clouds come out again when solved anew", "[report][slow]") {
    std::size_t clouds = 0;
    for (const auto& file : std::filesystem::directory_iterator(kLevels + "/experts")) {
        const Scenario scenario = level(file.path().stem().string());
        const Experts shipped = find_experts(scenario, kLevels);
        INFO(scenario.id << ": " << shipped.why_none);
        REQUIRE(shipped.rows.size() >= 50);
        ++clouds;
        const ScenarioModel model(scenario);
        for (const std::size_t row : {std::size_t{0}, std::size_t{17}, shipped.rows.size() - 1}) {
            const Expert& expert = shipped.rows[row];
            const auto anew = solve_expert(model, kExpertSeed, expert.index);
            REQUIRE(anew);
            // What two builds may differ by: as in the golden scores.
            CHECK_THAT(anew->tension_mN, WithinAbs(expert.tension_mN, 1e-3));
            CHECK_THAT(anew->mean_D, WithinAbs(expert.mean_D, 0.01));
            CHECK_THAT(anew->cylinder_D, WithinAbs(expert.cylinder_D, 0.01));
            CHECK_THAT(anew->leak_pressure_mmHg, WithinAbs(expert.leak_pressure_mmHg, 0.15));
        }
    }
    CHECK(clouds >= 13);
}

TEST_CASE("experts: tighter clouds are flatter and hold more", "[report][trend]") {
    const Experts experts = find_experts(level("sixteen"), kLevels);
    REQUIRE(experts.rows.size() > 10);
    double loose_D = 0, tight_D = 0, loose_mmHg = 0, tight_mmHg = 0;
    int loose = 0, tight = 0;
    for (const Expert& e : experts.rows) {
        if (e.tension_mN < 12) {
            loose_D += e.mean_D;
            loose_mmHg += e.leak_pressure_mmHg;
            ++loose;
        } else if (e.tension_mN > 20) {
            tight_D += e.mean_D;
            tight_mmHg += e.leak_pressure_mmHg;
            ++tight;
        }
    }
    REQUIRE(loose > 5);
    REQUIRE(tight > 5);
    CHECK(tight_D / tight < loose_D / loose - 2);
    CHECK(tight_mmHg / tight > loose_mmHg / loose + 20);
}

TEST_CASE("experts: an attempt is the same for the same seed and another for another", "[report]") {
    const Scenario scenario = level("sixteen");
    CHECK(expert_attempt(scenario, 7, 3) == expert_attempt(scenario, 7, 3));
    CHECK_FALSE(expert_attempt(scenario, 7, 3) == expert_attempt(scenario, 7, 4));
    CHECK_FALSE(expert_attempt(scenario, 7, 3) == expert_attempt(scenario, 8, 3));
    for (const Bite& bite : expert_attempt(scenario, 7, 3).bites) {
        CHECK(bite.graft_depth_um < scenario.graft.thickness_um);
        CHECK(bite.tension_mN > 0);
    }
}

TEST_CASE("experts: a table solved for another eye is not shown with this one", "[report]") {
    Scenario scenario = level("sixteen");
    const std::string table = write_experts(scenario, 7, {{0, 15, 1, 40, 50}});
    CHECK(read_experts(table, scenario).rows.size() == 1);
    scenario.title = "another title";
    CHECK(read_experts(table, scenario).rows.size() == 1);
    scenario.eye.rim_thickness_um += 1;
    CHECK(read_experts(table, scenario).rows.empty());
    CHECK_THAT(read_experts(table, scenario).why_none, Contains("another eye"));
}

TEST_CASE("experts: a table that is none, or is cut short, is said so and not shown", "[report]") {
    const Scenario scenario = level("sixteen");
    const std::string table = write_experts(scenario, 7, {{0, 15, 1, 40, 50}, {1, 15, 1, 40, 50}});
    for (const std::string& bad : {std::string(), std::string("nonsense"), table.substr(0, table.size() - 12),
                                   table + "3,x,1,40,50\n", table + "3,nan,1,40,50\n"}) {
        const Experts read = read_experts(bad, scenario);
        CHECK(read.rows.empty());
        CHECK_FALSE(read.why_none.empty());
    }
    CHECK_THAT(find_experts(scenario, "/no/such/folder").why_none, Contains("No simulated experts"));
}
