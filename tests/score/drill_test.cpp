// Drills: one skill judged in words, also where nothing can be solved; questions judged by solving again.
#include "score/drill.h"

#include <catch2/catch.hpp>

#include "../scenes/attempts.h"
#include "score/hand_marks.h"

using namespace graftwright;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

namespace {

Scenario drill(ScenarioKind kind, int bites) {
    Scenario scenario = scenes::standard_scenario();
    scenario.kind = kind;
    scenario.task.bites = bites;
    scenario.pass = PassMarks{};
    scenario.pass.cylinder_D = scenario.pass.flattening_D = scenario.pass.leak_pressure_mmHg = scenario.pass.step_um =
        std::nullopt;
    return scenario;
}

// Eight even bites, the fifth (135°) at another tension.
Scenario question(ScenarioKind kind, double fifth_mN) {
    Scenario scenario = drill(kind, 8);
    scenario.start.bites = scenes::even_bites(scenario, 8);
    scenes::nearest(scenario.start.bites, 135.0).tension_mN = fifth_mN;
    return scenario;
}
std::size_t at_135(const Scenario& scenario) {
    std::vector<Bite> bites = scenario.start.bites;
    return static_cast<std::size_t>(&scenes::nearest(bites, 135.0) - bites.data());
}
ScenarioModel coarse(const Scenario& scenario) { return ScenarioModel(scenario, scenes::coarse_options()); }

// The model's eye is not solved for drills of the hand: the coarsest will do.
DrillVerdict judged(const Scenario& scenario, const std::vector<Bite>& bites) {
    Attempt attempt;
    attempt.bites = bites;
    return judge_drill(coarse(scenario), attempt);
}

}  // namespace

TEST_CASE("drill: one bite is judged by its depth, within, at and beyond the marks", "[score][drill]") {
    Scenario scenario = drill(ScenarioKind::depth, 1);
    scenario.pass.least_depth_fraction = 0.85;
    scenario.pass.most_depth_fraction = 0.95;
    scenario.pass.depth_difference = 0.06;
    const auto with = [&](double graft, double host) {
        Bite bite = scenes::bite_at(scenario, 90.0);
        bite.graft_depth_um = graft * scenario.graft.thickness_um;
        bite.host_depth_um = host * scenario.eye.rim_thickness_um;
        return judged(scenario, {bite});
    };
    CHECK(with(0.90, 0.92).passed);
    CHECK_FALSE(with(0.84, 0.90).passed);
    CHECK_FALSE(with(0.96, 0.92).passed);
    CHECK_FALSE(with(0.87, 0.94).passed);
    const DrillVerdict shallow = with(0.90, 0.50);
    CHECK_THAT(shallow.sentence, Contains("least depth 0.50 of the thickness, at least 0.85 asked: missed"));
    CHECK(shallow.words.size() == shallow.marks.size());
}

TEST_CASE("drill: as many bites as the task says, and the start's are not the hand's", "[score][drill]") {
    Scenario scenario = drill(ScenarioKind::radial, 4);
    scenario.pass.radial_error_deg = 5.0;
    scenario.start.bites = scenes::even_bites(scenario, 3);
    scenario.start.bites[1].graft_skew_mm = 1.0;  // another's fault
    std::vector<Bite> bites = scenario.start.bites;
    CHECK_THAT(judged(scenario, bites).sentence, Contains("bites in place 3.00, at least 4.00 asked"));
    bites.push_back(scenes::bite_at(scenario, 30.0));
    CHECK(judged(scenario, bites).passed);
    bites.back().graft_skew_mm = 0.4;
    CHECK_FALSE(judged(scenario, bites).passed);
    bites.back().removed = true;  // cut out and laid anew
    bites.push_back(scenes::bite_at(scenario, 30.0));
    CHECK(judged(scenario, bites).passed);
}

TEST_CASE("drill: opposite means at both edges, the larger counts, across 0 degrees too", "[score][drill]") {
    const Scenario scenario = drill(ScenarioKind::opposite, 2);
    std::vector<Bite> bites{scenes::bite_at(scenario, 179.0), scenes::bite_at(scenario, 1.5)};
    CHECK_THAT(opposite_error_deg(bites, 1).value(), WithinAbs(2.5, 1e-9));
    bites[1].graft_deg = 355.0;
    CHECK_THAT(opposite_error_deg(bites, 1).value(), WithinAbs(4.0, 1e-9));
    bites[1].host_deg = 90.0;  // no partner
    CHECK_FALSE(opposite_error_deg(bites, 1));
    CHECK(judged(scenario, bites).passed);  // nothing asked of it
}

TEST_CASE("drill: tensions are compared as locked, those of the start among them", "[score][drill]") {
    Scenario scenario = drill(ScenarioKind::tension, 4);
    scenario.pass.tension_range = 0.3;
    scenario.start.bites = scenes::even_bites(scenario, 3);
    std::vector<Bite> bites = scenario.start.bites;
    bites.push_back(scenes::bite_at(scenario, 30.0));
    bites.back().tension_mN = 19.0;
    CHECK(judged(scenario, bites).passed);
    bites.back().tension_mN = 20.0;
    CHECK_FALSE(judged(scenario, bites).passed);
    CHECK_THAT(locked_tension_range(bites), WithinAbs(5.0 / 15.0, 1e-9));
}

TEST_CASE("drill: harm that was counted can be a mark", "[score][drill]") {
    Scenario scenario = drill(ScenarioKind::depth, 1);
    scenario.pass.trauma_count = 0.0;
    Attempt attempt;
    attempt.bites = {scenes::bite_at(scenario, 90.0)};
    const ScenarioModel model = coarse(scenario);
    CHECK(judge_drill(model, attempt).passed);
    attempt.events = {{1.0, "trauma", ""}, {2.0, "look", ""}};
    CHECK_FALSE(judge_drill(model, attempt).passed);
}

TEST_CASE("drill: bites of a running thread count and are judged like single ones", "[score][drill][runs]") {
    Scenario scenario = drill(ScenarioKind::depth, 4);
    scenario.pass.least_depth_fraction = 0.85;
    const ScenarioModel model = coarse(scenario);
    Attempt attempt;
    attempt.bites = {scenes::bite_at(scenario, 90.0)};
    attempt.runs.resize(1);
    for (const double deg : {0.0, 120.0, 240.0})
        attempt.runs[0].bites.push_back({static_cast<const BitePath&>(scenes::bite_at(scenario, deg))});
    CHECK(judge_drill(model, attempt).passed);
    attempt.runs[0].bites[2].host_depth_um = 0.5 * scenario.eye.rim_thickness_um;
    CHECK_FALSE(judge_drill(model, attempt).passed);
    attempt.runs.clear();  // then three are missing
    CHECK_FALSE(judge_drill(model, attempt).passed);
}

TEST_CASE("drill: marks of the hand count in a closure too", "[score][drill]") {
    Scenario scenario = scenes::standard_scenario();
    scenario.pass.least_depth_fraction = 0.95;
    Attempt attempt;
    attempt.bites = scenes::even_bites(scenario, 8);
    scenario.pass.leak_pressure_mmHg = scenario.pass.step_um = std::nullopt;
    const std::vector<PassMark> marks = hand_marks(scenario, attempt, bite_metrics(scenario, attempt.bites, {}));
    REQUIRE(marks.size() == 1);
    CHECK_FALSE(marks.front().met());
}

TEST_CASE("reading rings: only the tight bite, and only loosened, is right", "[score][drill][quick]") {
    const Scenario scenario = question(ScenarioKind::read_rings, 45.0);
    const ScenarioModel model = coarse(scenario);
    const DrillJudge judge(model);
    const std::size_t tight = at_135(scenario);
    for (std::size_t b = 0; b < scenario.start.bites.size(); ++b)
        for (const bool loosen : {true, false}) {
            DrillAnswer answer;
            answer.bite = b;
            answer.loosen = loosen;
            const DrillVerdict verdict = judge.judge({}, answer);
            INFO(b << " " << loosen << ": " << verdict.sentence);
            CHECK(verdict.passed == (b == tight && loosen));
        }
    DrillAnswer answer;
    answer.bite = tight;
    answer.loosen = false;
    CHECK_THAT(judge.judge({}, answer).sentence, Contains("the right bite, but it is tight"));
    // Drawn like its neighbours, it leaves an even closure's cylinder.
    for (const BiteReading& reading : judge.readings())
        if (reading.bite == tight) CHECK(*reading.cylinder_D < 0.3 * judge.start()->keratometry->cylinder_D);
}

TEST_CASE("reading rings: a loose bite is to be tightened", "[score][drill][quick]") {
    const Scenario scenario = question(ScenarioKind::read_rings, 1.0);
    const ScenarioModel model = coarse(scenario);
    DrillAnswer answer;
    answer.bite = at_135(scenario);
    answer.loosen = false;
    CHECK(judge_drill(model, {}, answer).passed);
    answer.loosen = true;
    CHECK_THAT(judge_drill(model, {}, answer).sentence, Contains("but it is loose"));
}

TEST_CASE("finding a leak: the place and the repair must both be right", "[score][drill][quick]") {
    Scenario scenario = question(ScenarioKind::find_leak, 1.0);
    scenario.pass.leak_pressure_mmHg = 14.0;  // even: 19
    const ScenarioModel model = coarse(scenario);
    const DrillJudge judge(model);
    CHECK(scenes::apart_deg(judge.start()->wound.weakest_deg, 135.0) < kLeakPlace_deg);
    CHECK(judge.start()->wound.leak_pressure_mmHg < 14.0);
    DrillAnswer answer;
    answer.at_deg = 140.0;
    answer.retie = at_135(scenario);
    const DrillVerdict right = judge.judge({}, answer);
    INFO(right.sentence);
    CHECK(right.passed);
    CHECK(right.after->wound.leak_pressure_mmHg > right.before->wound.leak_pressure_mmHg);
    answer.at_deg = 160.0;
    CHECK_FALSE(judge.judge({}, answer).passed);
    answer.at_deg = 140.0;
    answer.retie = (at_135(scenario) + 1) % 8;
    CHECK_FALSE(judge.judge({}, answer).passed);
}

TEST_CASE("finding a leak: a repair that the hand has made counts as it was made", "[score][drill][quick]") {
    Scenario scenario = question(ScenarioKind::find_leak, 1.0);
    scenario.pass.leak_pressure_mmHg = 14.0;
    const ScenarioModel model = coarse(scenario);
    DrillAnswer place;
    place.at_deg = 135.0;
    Attempt attempt;
    place.retie = at_135(scenario);
    attempt.bites = bites_as_answered(scenario, place);
    place.retie.reset();
    attempt.events = {answer_event(12.0, place)};
    CHECK(judge_drill(model, attempt).passed);
    attempt.bites.back().tension_mN = 0.5;
    CHECK_FALSE(judge_drill(model, attempt).passed);
}

TEST_CASE("finding a leak: a running thread that the hand has laid over it is a repair", "[score][drill][runs]") {
    Scenario scenario = question(ScenarioKind::find_leak, 1.0);
    scenario.pass.leak_pressure_mmHg = 14.0;
    const ScenarioModel model = coarse(scenario);
    DrillAnswer place;
    place.at_deg = 135.0;
    Attempt attempt;
    attempt.bites = scenario.start.bites;
    attempt.events = {answer_event(12.0, place)};
    CHECK_FALSE(judge_drill(model, attempt).passed);
    attempt.runs.resize(1);
    for (int k = 0; k < 8; ++k)
        attempt.runs[0].bites.push_back({static_cast<const BitePath&>(scenes::bite_at(scenario, 22.5 + 45.0 * k))});
    attempt.runs[0].worked_mN = 24.0;
    const DrillVerdict mended = judge_drill(model, attempt);
    INFO(mended.sentence);
    CHECK(mended.passed);
}

TEST_CASE("selective removal: the tight pair out lowers the cylinder, too many out open the wound",
          "[score][drill][quick]") {
    Scenario scenario = drill(ScenarioKind::remove, 16);
    scenario.start.bites = scenes::even_bites(scenario, 16, {10.0, 0.92, 1.1});
    for (const double deg : {45.0, 225.0}) scenes::nearest(scenario.start.bites, deg).tension_mN = 60.0;
    scenario.pass.cylinder_D = 2.5;
    const ScenarioModel model = coarse(scenario);
    DrillAnswer answer;
    for (std::size_t b = 0; b < 16; ++b)
        if (scenario.start.bites[b].tension_mN > 20.0) answer.remove.push_back(b);
    REQUIRE(answer.remove.size() == 2);
    const DrillVerdict both = judge_drill(model, {}, answer);
    INFO(both.sentence);
    CHECK(both.passed);
    DrillAnswer one = answer;
    one.remove.pop_back();
    CHECK_THAT(judge_drill(model, {}, one).sentence, Contains("cylinder afterwards"));
    for (std::size_t b = 0; b < 13; ++b) answer.remove.push_back(b);
    const DrillVerdict open = judge_drill(model, {}, answer);
    CHECK_FALSE(open.passed);
    CHECK_THAT(judge_drill(model, {}).sentence, Contains("nothing was answered"));
}

TEST_CASE("drill: an answer that names what is not there is told so", "[score][drill]") {
    Scenario scenario = question(ScenarioKind::find_leak, 1.0);
    scenario.start.bites[2].removed = true;
    const ScenarioModel model = coarse(scenario);
    const DrillJudge judge(model);
    DrillAnswer answer;
    answer.at_deg = 135.0;
    answer.retie = 2;
    CHECK_THAT(judge.judge({}, answer).sentence, Contains("does not lie in the eye"));
    answer.retie = 99;
    CHECK_THAT(judge.judge({}, answer).sentence, Contains("does not lie in the eye"));
    answer.retie.reset();
    answer.add_at_deg = 90.2;
    CHECK_THAT(judge.judge({}, answer).sentence, Contains("a bite already"));
}

TEST_CASE("drill questions: choices name every bite in place and put together an answer", "[score][drill]") {
    Scenario scenario = question(ScenarioKind::find_leak, 1.0);
    scenario.start.bites[3].removed = true;
    const DrillQuestion leak = drill_question(scenario);
    REQUIRE(leak.steps.size() == 2);
    CHECK(leak.steps[0].choices.size() == 24);
    CHECK(leak.steps[0].choices[3].label == "1:30 (45°)");
    CHECK(leak.steps[1].choices.size() == 7 + 24);
    const DrillAnswer answer = answer_from(leak, {{3}, {1}});
    CHECK(answer.at_deg == 45.0);
    CHECK(answer.retie == std::size_t{1});
    CHECK(answer_from(leak, {{99}, {99}, {0}}) == DrillAnswer{});

    scenario.kind = ScenarioKind::remove;
    const DrillQuestion remove = drill_question(scenario);
    CHECK(remove.steps[0].several);
    CHECK(answer_from(remove, {{0, 3}}).remove == std::vector<std::size_t>{0, 4});
    scenario.kind = ScenarioKind::read_rings;
    CHECK(answer_from(drill_question(scenario), {{2}, {1}}).loosen == false);
    scenario.kind = ScenarioKind::depth;
    CHECK(drill_question(scenario).steps.empty());
}

TEST_CASE("drill answers: kept in an attempt's events and read back, the last one counts", "[score][drill]") {
    DrillAnswer answer;
    answer.bite = 4;
    answer.loosen = true;
    answer.at_deg = 135.5;
    answer.retie = 0;
    answer.add_at_deg = 12.25;
    answer.tension_mN = 15.0;
    answer.remove = {1, 7};
    Attempt attempt;
    CHECK_FALSE(answer_in(attempt));
    attempt.events = {answer_event(1.0, {}), answer_event(2.0, answer)};
    CHECK(answer_in(attempt) == answer);
    attempt.events.push_back({3.0, "answer", R"({"bite": 0, "sense": "pull", "remove": [2, "x"]})"});
    DrillAnswer sense;
    sense.remove = {1};
    CHECK(answer_in(attempt) == sense);
}
