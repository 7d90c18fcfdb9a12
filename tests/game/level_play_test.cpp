// Shipped levels played at the input by a hand that shakes: 2 px of jitter, a notch more or less, 80 ms late.
#include <catch2/catch.hpp>

#include "../scenes/level_hand.h"
#include "run_scenes.h"
#include "score/drill.h"

namespace graftwright {
namespace {

using scenes::Device;
using scenes::InputNoise;
using scenes::MeantBite;
using scenes::RobotHand;

std::shared_ptr<const ScenarioModel> level(const std::string& id) {
    const std::string path = std::string(GRAFTWRIGHT_SOURCE_DIR) + "/levels/" + id + ".json";
    return std::make_shared<const ScenarioModel>(read_scenario(read_text_file(path).value(), path).value());
}

Game played(const std::shared_ptr<const ScenarioModel>& model, const std::vector<double>& at_deg, Device device,
            std::uint64_t seed) {
    Game game(model, make_inline_service(model), GameOptions{});
    InputNoise noise;
    noise.seed = seed;
    RobotHand hand(game, device, noise);
    for (const double deg : at_deg) {
        MeantBite bite;
        bite.at_deg = deg;
        hand.bite(bite);
    }
    return game;
}

}  // namespace

TEST_CASE("levels: a shaking hand passes the drills of depth, radius and opposite", "[game][levels][quick]") {
    const auto [id, at_deg] = GENERATE(table<std::string, std::vector<double>>(
        {{"first-bite", {90.0}}, {"depth-alone", {90.0}}, {"opposite-alone", {270.0}}}));
    const auto model = level(id);
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
        const Game game = played(model, at_deg, Device::mouse_and_wheel, seed);
        const DrillVerdict verdict = judge_drill(*model, game.attempt());
        INFO(id << ", hand " << seed << ": " << verdict.sentence);
        CHECK(verdict.passed);
    }
}

TEST_CASE("levels: a shaking hand passes the four cardinals and the eight", "[game][levels][slow]") {
    const auto [id, bites] = GENERATE(table<std::string, int>({{"four-cardinals", 4}, {"eight", 8}}));
    const auto model = level(id);
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
        const Game game = played(model, tying_order_deg(bites), Device::mouse_and_wheel, seed);
        ScoreOptions options;
        options.shares = false;
        const Scorecard card = score_attempt(*model, game.attempt(), options);
        REQUIRE(card.score);
        for (const PassMark& mark : card.score->marks) {
            INFO(id << ", hand " << seed << ": " << mark_words(mark));
            CHECK(mark.met());
        }
    }
}

TEST_CASE("levels: an expert's hand passes through a shaking device, a careless one does not", "[game][levels][slow]") {
    // One hand of each at levels of every kind that the cases above leave out; `graftwright_pass_rates --input` plays
    // many at all of them.
    const std::string id = GENERATE("even-tension", "rings-too-tight", "gap-in-the-row", "twelve", "swollen-rim",
                                    "teachers-puzzle", "tremor", "selective-removal");
    const auto model = level(id);
    const auto judge = model->scenario().kind == ScenarioKind::closure ? nullptr : std::make_unique<const DrillJudge>(*model);
    InputNoise noise;
    noise.seed = 3;
    const scenes::PlayedLevel expert = scenes::play_level(model, judge.get(), expert_hand(), noise);
    INFO(id << ": " << expert.why);
    CHECK(expert.passed);
    CHECK_FALSE(scenes::play_level(model, judge.get(), careless_hand(), noise).passed);
}

// Even bites in a level of that pattern; `singles` of them (temporary where the pattern is running) stand at the start.
Attempt with_run(const Scenario& scenario, int singles, int bites, double first_deg) {
    Attempt plan;
    plan.bites = scenario.start.bites;
    for (int i = static_cast<int>(plan.bites.size()); i < singles; ++i) {
        Bite bite;
        bite.graft_deg = bite.host_deg = tying_order_deg(singles)[static_cast<std::size_t>(i)];
        plan.bites.push_back(bite);
    }
    plan.runs.push_back(scenes::even_run(bites, first_deg));
    plan.runs.front().worked_mN = 20.0;  // and eased to the knot's 12
    return plan;
}

TEST_CASE("levels: a shaking hand lays a run between temporary cardinals, ties it and cuts them out",
          "[game][levels][run][quick]") {
    const auto model = std::make_shared<const ScenarioModel>(scenes::run_level(Pattern::running, 8, 4));
    Attempt plan = with_run(model->scenario(), 4, 8, 112.5);
    for (Bite& bite : plan.bites) bite.removed = true;  // after the last knot
    InputNoise noise;
    noise.seed = 5;
    const Attempt played = scenes::play_plan(model, plan, noise);
    REQUIRE(played.bites.size() == 4);
    for (const Bite& bite : played.bites) {
        CHECK(bite.removed);
        CHECK(bite.removed_after == 0);
    }
    REQUIRE(played.runs.size() == 1);
    REQUIRE(played.runs.front().bites.size() == 8);
    CHECK(played.runs.front().worked_mN.value_or(0.0) == Approx(20.0).margin(2.0));
    CHECK(played.runs.front().tension_mN == Approx(12.0).margin(2.5));
    for (std::size_t k = 0; k < 8; ++k) {
        const double meant_deg = plan.runs.front().bites[k].host_deg;
        CHECK(std::abs(std::remainder(played.runs.front().bites[k].host_deg - meant_deg, 360.0)) < 3.0);
    }
}

TEST_CASE("levels: a shaking hand ties single bites and then the run between them", "[game][levels][run][slow]") {
    const auto model = std::make_shared<const ScenarioModel>(scenes::run_level(Pattern::combined, 8));
    const Attempt plan = with_run(model->scenario(), 4, 4, 45.0);
    const Attempt played = scenes::play_plan(model, plan, InputNoise{});
    CHECK(played.bites.size() == 4);
    for (const Bite& bite : played.bites) CHECK_FALSE(bite.removed);
    REQUIRE(played.runs.size() == 1);
    CHECK(played.runs.front().bites.size() == 4);
    CHECK(played.runs.front().tension_mN == Approx(12.0).margin(2.5));
}

TEST_CASE("levels: the noise is what it says, and repeatable", "[game][levels][quick]") {
    const auto model = level("depth-alone");
    const Game first = played(model, {90.0}, Device::mouse_and_wheel, 7);
    CHECK(played(model, {90.0}, Device::mouse_and_wheel, 7).inputs() == first.inputs());
    CHECK(played(model, {90.0}, Device::mouse_and_wheel, 8).inputs() != first.inputs());
}

}  // namespace graftwright
