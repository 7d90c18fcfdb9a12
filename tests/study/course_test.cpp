// The shipped course: every level says what it is for, and its pass marks are earned, not guessed.
#include "course.h"

#include <set>

#include <catch2/catch.hpp>

#include "../scenes/attempts.h"
#include "base/statistics.h"
#include "score/drill.h"

using namespace graftwright;

namespace {

const std::string kCourseLevels = GRAFTWRIGHT_SOURCE_DIR "/levels";

}  // namespace

TEST_CASE("course: sixteen levels and more, each with its place, its briefing and what it teaches", "[study][levels]") {
    const std::vector<Scenario> levels = scenes::course(kCourseLevels);
    CHECK(levels.size() >= 16);
    CHECK(levels.front().order == 0);
    std::set<int> orders;
    std::set<ScenarioKind> kinds;
    std::set<Pattern> patterns;
    for (const Scenario& level : levels) {
        INFO(level.id);
        CHECK(orders.insert(level.order).second);
        kinds.insert(level.kind);
        CHECK_FALSE(level.title.empty());
        CHECK(level.briefing.size() > 100);
        CHECK(level.teaches.size() >= 2);
        patterns.insert(level.task.pattern);
    }
    CHECK(kinds.size() == 8);
    for (const Pattern pattern : {Pattern::interrupted, Pattern::running, Pattern::combined})
        CHECK(patterns.contains(pattern));
}

TEST_CASE("course: aids fade; 'sixteen' alone, the practice level, keeps them all", "[study][levels]") {
    std::size_t most = 7;
    for (const Scenario& level : scenes::course(kCourseLevels)) {
        if (level.kind != ScenarioKind::closure || level.id == "sixteen") continue;
        INFO(level.id);
        CHECK(level.task.hand.aids.size() <= most + 1);  // a harder eye may give one back
        most = std::min(most, level.task.hand.aids.size());
    }
    CHECK(most <= 2);
}

TEST_CASE(
    "course: an expert hand passes and a careless one fails, at every level; no leak mark above 0.8 of the ideal's",
    "[study][levels][slow]") {
    // 200 hands of each are printed by ./tools/pass_rates; here so many that a level with the rates asked for
    // (90 % and 80 %) would fall outside by chance of the draw in 0.24 % (binomial: fewer than 14 of 20 experts)
    // and 0.26 % (more than 9 of 20 careless hands) of all seeds.
    constexpr int kHands = 20, kLeastExperts = 14, kMostCareless = 9;
    constexpr double kMostOfIdealLeak = 0.8;
    for (const Scenario& level : scenes::course(kCourseLevels)) {
        const scenes::PassRates rates = scenes::pass_rates(level, kHands, 2);
        INFO(level.id);
        CHECK(rates.expert_passed >= kLeastExperts);
        CHECK(rates.careless_passed <= kMostCareless);
        if (level.kind == ScenarioKind::closure && level.pass.leak_pressure_mmHg)
            CHECK(*level.pass.leak_pressure_mmHg <= kMostOfIdealLeak * rates.ideal_leak_mmHg);
    }
}

TEST_CASE("course: a leak to be mended asks no more than 0.8 of what the even closure holds", "[study][levels][slow]") {
    for (const Scenario& level : scenes::course(kCourseLevels)) {
        if (level.kind != ScenarioKind::find_leak && level.kind != ScenarioKind::remove) continue;
        INFO(level.id);
        REQUIRE(level.pass.leak_pressure_mmHg);
        Scenario even = level;
        std::vector<double> tensions;  // as tight as the level's own bites usually are
        for (const Bite& bite : level.start.bites) tensions.push_back(bite.tension_mN);
        even.start.bites = scenes::even_bites(level, level.task.bites, {median(tensions), 0.92, 1.1});
        const ScenarioModel model(even);
        CHECK(*level.pass.leak_pressure_mmHg <=
              0.8 * scenes::tied(model, even.start.bites, true).wound.leak_pressure_mmHg);
    }
}
