// Golden scores: the shipped attempts' main numbers as they were last agreed on (tests/data/golden).
// A number that moves is a change of the model: explain it in the commit that records the new one.
#include <fstream>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "../scenes/test_surfaces.h"
#include "files/reader.h"
#include "score/scorecard.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using nlohmann::json;

TEST_CASE("golden scores: the shipped attempts score what they did", "[score][slow]") {
    const std::string name = GENERATE("even_sixteen", "second_cardinal_off", "tight_pair", "run_not_worked_round");
    const std::string root = GRAFTWRIGHT_SOURCE_DIR;
    std::ifstream file(root + "/tests/data/golden/" + name + ".json");
    REQUIRE(file);
    const json golden = json::parse(file);
    const Result<AttemptInScenario> read =
        read_attempt_file(root + "/levels/attempts/" + name + ".json", "", root + "/levels");
    REQUIRE(read.ok());
    ScoreOptions options;
    options.shares = false;
    const Scorecard card = score_attempt(ScenarioModel(read.value().scenario), read.value().attempt, options);
    REQUIRE(card.converged());
    INFO(name);
    // Tolerances: what two builds of this program may differ by, ours to choose; a hundredth of a dioptre
    // and a tenth of a millimetre of mercury are the last digits that the program shows.
    const auto agrees = [&](const char* key, double ours) {
        INFO(key << " " << ours);
        CHECK_THAT(ours,
                   WithinAbs(golden.at(key).at("value").get<double>(), golden.at(key).at("tolerance").get<double>()));
    };
    agrees("cylinder_D", card.attempt.keratometry->cylinder_D);
    agrees("mean_D", card.attempt.keratometry->mean_D);
    CHECK(std::abs(scenes::axis_difference_deg(card.attempt.keratometry->steep_axis_deg,
                                               golden.at("steep_axis_deg").at("value").get<double>())) <=
          golden.at("steep_axis_deg").at("tolerance").get<double>());
    agrees("leak_pressure_mmHg", card.attempt.wound.leak_pressure_mmHg);
    agrees("hoa_rms_um", *card.attempt.hoa_rms_um);
    agrees("total", card.score->total);
    CHECK(card.score->passed == golden.at("passed").get<bool>());
}
