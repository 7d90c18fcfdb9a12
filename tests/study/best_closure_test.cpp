// The best closure predicted for a level is what `score` says of an attempt in it.
#include "study/best_closure.h"

#include <cmath>

#include <catch2/catch.hpp>

#include "files/reader.h"
#include "files/writer.h"
#include "score/scorecard.h"
#include "study/simulated_hand.h"

namespace graftwright {
namespace {

const std::string kLevels = GRAFTWRIGHT_SOURCE_DIR "/levels";

Scenario shipped(const std::string& id) { return find_scenario(id, "", kLevels).value(); }

// As the command does it: the attempt's file, its level found by name, solved and marked. (What it prints is
// rounded to ten figures, so the card itself is compared.)
Scorecard scored(const std::string& id, const HandSkill& skill) {
    RandomStream random(7, 3);
    const Attempt made = simulated_attempt(shipped(id), skill, random);
    const Result<Attempt> attempt = read_attempt_for(shipped(id), write_attempt(made), "even.json");
    REQUIRE(attempt.ok());
    const ScenarioModel model(shipped(id));
    ScoreOptions options;
    options.shares = false;
    return score_attempt(model, attempt.value(), options);
}

void check_same(double predicted, double scored) {
    constexpr double kSame = 1e-9;
    CHECK(std::abs(predicted - scored) <= kSame);
}

}  // namespace

TEST_CASE("best closure: the ideal is the one that score sets beside an attempt in that level", "[study][form][slow]") {
    for (const char* id : {"four-cardinals", "sixteen", "swollen-rim", "oval-bed", "short-rim", "teachers-puzzle"}) {
        INFO(id);
        const BestClosure best = best_closure(shipped(id));
        REQUIRE(best.reason == "");
        const Scorecard card = scored(id, faultless_hand());
        HandSkill answers = faultless_hand();
        answers.levels_fronts = answers.counters_ovality = true;
        const Scorecard answered = scored(id, answers);
        REQUIRE(card.ideal);
        REQUIRE(answered.ideal);
        check_same(best.ideal->cylinder_D, card.ideal->keratometry->cylinder_D);
        check_same(best.ideal->mean_D, card.ideal->keratometry->mean_D);
        check_same(best.ideal->leak_pressure_mmHg, card.ideal->wound.leak_pressure_mmHg);
        check_same(best.ideal->posterior_gape_um, max_posterior_gape_um(*card.ideal));
        check_same(best.hand->cylinder_D, answered.attempt.keratometry->cylinder_D);
        check_same(best.hand->step_um, max_step_um(answered.attempt));
        check_same(best.hand->flattening_D, answered.ideal->keratometry->mean_D - answered.attempt.keratometry->mean_D);
        CHECK(best.ideal->cylinder_D > 0.0);
    }
}

TEST_CASE("best closure: it says which mark even the ideal misses", "[study][form]") {
    Scenario level = shipped("sixteen");
    CHECK(best_closure(level).ideal_passes);
    level.pass.cylinder_D = 0.1;
    const BestClosure strict = best_closure(level);
    CHECK_FALSE(strict.ideal_passes);
    int missed = 0;
    for (const PassMark& mark : strict.ideal_marks)
        if (!mark.met()) {
            ++missed;
            CHECK(mark.mark == Mark::cylinder);
        }
    CHECK(missed == 1);
}

TEST_CASE("best closure: where even is not good enough, the hand that answers the eye is", "[study][form]") {
    for (const char* id : {"oval-bed", "swollen-rim"}) {
        INFO(id);
        const BestClosure best = best_closure(shipped(id));
        CHECK_FALSE(best.ideal_passes);
        CHECK(best.hand_passes);
    }
}

TEST_CASE("best closure: a leak mark over four fifths of the ideal's is too much", "[study][form]") {
    Scenario level = shipped("eight");
    const double leaks_at = best_closure(level).ideal->leak_pressure_mmHg;
    for (const auto& [share, too_much] : {std::pair{0.79, false}, {0.81, true}}) {
        level.pass.leak_pressure_mmHg = share * leaks_at;
        const BestClosure best = best_closure(level);
        CHECK(*best.leak_asked == Approx(share));
        CHECK(best.asks_too_much_leak() == too_much);
        CHECK(best.ideal_passes);
    }
    level.pass.leak_pressure_mmHg.reset();
    CHECK_FALSE(best_closure(level).asks_too_much_leak());
}

TEST_CASE("best closure: tremor, clock and words do not change it; the rim does", "[study][form]") {
    Scenario level = shipped("eight");
    const double before = best_closure(level).ideal->cylinder_D;
    level.task.hand.tremor_um = 60.0;
    level.task.time_limit_s = 10.0;
    level.title = "another";
    CHECK(best_closure(level).ideal->cylinder_D == before);
    level.eye.rim_thickness_um = 750.0;
    CHECK(best_closure(level).ideal->cylinder_D != before);
}

TEST_CASE("best closure: a puzzle shows what lies in the eye, and that mending it helps", "[study][form]") {
    const BestClosure best = best_closure(shipped("teachers-puzzle"));
    REQUIRE(best.opening);
    CHECK(best.opening->cylinder_D > *shipped("teachers-puzzle").pass.cylinder_D);
    CHECK(best.hand->cylinder_D < best.opening->cylinder_D);
    CHECK(best.hand_passes);
}

TEST_CASE("best closure: drills and questions are judged as score judges them", "[study][form]") {
    for (const char* id : {"depth-alone", "rings-too-tight", "find-the-leak", "selective-removal"}) {
        INFO(id);
        const BestClosure best = best_closure(shipped(id));
        CHECK(best.hand_passes);
        CHECK(best.verdict.size() > 10);
    }
    Scenario hard = shipped("depth-alone");
    hard.pass.least_depth_fraction = 0.93;  // a faultless hand aims at 0.92
    hard.pass.most_depth_fraction = 0.94;
    CHECK_FALSE(best_closure(hard).hand_passes);
}

TEST_CASE("best closure: a level of running threads has its ideal like any other", "[study][form]") {
    for (const char* id : {"running", "combined"}) {
        INFO(id);
        const BestClosure best = best_closure(shipped(id));
        REQUIRE(best.ideal);
        CHECK(best.hand_passes);
        CHECK(best.ideal->cylinder_D < 1.0);
        REQUIRE(best.leak_asked);
        CHECK_FALSE(best.asks_too_much_leak());
    }
    CHECK(best_closure(shipped("running")).opening);  // as its four cardinals leave it
}

TEST_CASE("best closure: what is not solved is said, not guessed", "[study][form]") {
    Scenario two = shipped("eight");
    two.task.bites = 2;
    const BestClosure loose = best_closure(two);
    CHECK_FALSE(loose.ideal);
    CHECK_FALSE(loose.reason.empty());
}

}  // namespace graftwright
