// From a scorecard to an entry: what is kept, when it was, and what counts as success.
#include "logbook/entry.h"

#include <catch2/catch.hpp>

#include "../scenes/attempts.h"
#include "logbook/digest.h"
#include "logbook/skills.h"
#include "score/bite_metrics.h"
#include "score/pass_marks.h"

using namespace graftwright;

namespace {

const Scenario kStandard = scenes::standard_scenario();
const EntryStamp kStamp{"0.1.0", "2026-05-05T05:05:05Z"};

// A closure with everything a scorecard has, filled in by hand; no mechanics.
Scorecard made_card(std::size_t bites) {
    Scorecard card;
    card.scenario = "standard";
    card.bite_count = bites;
    card.attempt.status.converged = true;
    card.attempt.keratometry.emplace();
    card.attempt.keratometry->cylinder_D = 2.5;
    card.attempt.keratometry->mean_D = 40.0;
    card.attempt.wound.leak_pressure_mmHg = 41.0;
    card.ideal = card.attempt;
    card.ideal->keratometry->mean_D = 42.5;
    for (std::size_t b = 0; b < bites; ++b) {
        BiteMetrics metrics;
        metrics.depth_fraction_graft = 0.9;
        metrics.depth_fraction_host = 0.94;
        metrics.spacing_error_deg = b % 2 == 0 ? 2.0 : -2.0;
        metrics.radial_error_deg = 3.0;
        card.bites.push_back(metrics);
        card.attempt.tension_mN.push_back(b % 2 == 0 ? 12.0 : 18.0);
        card.shares.emplace_back();
    }
    if (bites > 1) card.shares[1] = BiteShare{1.25, 30.0, {}, 2.0};
    Score score;
    score.rules = {{Part::optics, "cylinder", Unit::dioptre, 25, 2.5, 3, 6, ""},
                   {Part::seal, "leak pressure", Unit::mmHg, 30, 41, 30, 15, ""}};
    score.parts = {
        {Part::optics, 40.0}, {Part::seal, 54.5}, {Part::apposition, std::nullopt}, {Part::technique, std::nullopt}};
    score.total = 94.5;
    score.marks = {{Mark::cylinder, 3.0, 2.5}, {Mark::leak_pressure, 45.0, 41.0}};
    score.passed = false;
    card.score = score;
    return card;
}

Entry made(const Scorecard& card, const std::string& started = "", const std::string& trainee = "Ilse") {
    Attempt attempt;
    attempt.trainee = trainee;
    attempt.started = started;
    Result<Entry> entry = make_entry(scenes::standard_scenario(), attempt, "the file's text", card, kStamp);
    REQUIRE(entry.ok());
    return entry.take();
}

}  // namespace

TEST_CASE("entry: holds the score, what each part could earn, and the closure's numbers", "[logbook]") {
    const Entry entry = made(made_card(4));
    CHECK(at(entry.measures, Metric::total) == 94.5);
    CHECK(at(entry.measures, Metric::optics) == 40.0);
    CHECK(*at(entry.measures, Metric::optics_of) == Approx(100.0 * 25 / 55));
    CHECK_FALSE(at(entry.measures, Metric::apposition));
    CHECK_FALSE(at(entry.measures, Metric::apposition_of));
    CHECK(at(entry.measures, Metric::flattening_D) == 2.5);
    CHECK(*at(entry.measures, Metric::depth_mean) == Approx(0.92));
    CHECK(*at(entry.measures, Metric::depth_spread) == Approx(0.02));
    CHECK(*at(entry.measures, Metric::spacing_spread_deg) == Approx(2.0));
    CHECK(*at(entry.measures, Metric::radial_error_deg) == Approx(3.0));
    CHECK(*at(entry.measures, Metric::tension_spread) == Approx(0.2));
    CHECK(entry.per_bite.size() == 4);
    CHECK(entry.per_bite[1].share_D == 1.25);
    CHECK_FALSE(entry.per_bite[0].share_D);
    CHECK(entry.program == "0.1.0");
    CHECK(entry.attempt_text == "the file's text");
}

TEST_CASE("entry: its time is the attempt's own where that is UTC, else when it was entered", "[logbook]") {
    const Scorecard card = made_card(4);
    CHECK(made(card, "2026-01-02T03:04:05Z").at_utc == "2026-01-02T03:04:05Z");
    CHECK(made(card, "2026-01-02T03:04:05.678Z").at_utc == "2026-01-02T03:04:05Z");
    for (const char* label : {"", "yesterday", "2026-01-02", "2026-01-02T03:04:05+01:00", "2026-13-02T03:04:05Z",
                              "2026-01-02T03:04:05.Z", "2026-01-02T03:04:05xZ"}) {
        INFO(label);
        CHECK(made(card, label).at_utc == kStamp.entered_utc);
    }
}

TEST_CASE("entry: another text or another scenario is another attempt, another time of entry is not", "[logbook]") {
    const Scorecard card = made_card(4);
    Scenario scenario = scenes::standard_scenario();
    const Attempt attempt;
    const auto id = [&](const std::string& text, const EntryStamp& stamp) {
        return make_entry(scenario, attempt, text, card, stamp).value().id;
    };
    const std::string first = id("text", kStamp);
    CHECK(first == id("text", {"0.2.0", "2027-01-01T00:00:00Z"}));
    CHECK(first != id("text ", kStamp));
    scenario.eye.pressure_mmHg = 16.0;
    CHECK(first != id("text", kStamp));
}

TEST_CASE("entry: a name is kept as it is or refused with the reason", "[logbook][bad-input]") {
    for (const std::string& name : {std::string("O'Rask"), std::string("日本"), std::string(200, 'x')})
        CHECK(name_fault(name).empty());
    CHECK_THAT(name_fault(std::string(10000, 'x')), Catch::Contains("10000"));
    for (const std::string& name :
         {std::string("a\nb"), std::string("a\0b", 3), std::string("\xff"), std::string("\xc3"),
          std::string("\xed\xa0\x80"), std::string("\xc0\xaf"), std::string("\xf5\x80\x80\x80")}) {
        CHECK_THAT(name_fault(name), Catch::Contains("UTF-8"));
        Attempt attempt;
        attempt.trainee = name;
        CHECK_FALSE(make_entry(scenes::standard_scenario(), attempt, "", made_card(4), kStamp).ok());
    }
}

TEST_CASE("entry: the nearest name that can be kept is a whole text of whole characters", "[logbook][bad-input]") {
    CHECK(nearest_name("O'Rask 🪡") == "O'Rask 🪡");
    CHECK(nearest_name("a\nb\xff\xc3") == "ab");
    std::string needles, two_hundred;
    for (int i = 0; i < 10'000; ++i) needles += "🪡";
    for (int i = 0; i < 200; ++i) two_hundred += "🪡";
    CHECK(nearest_name(needles) == two_hundred);
    CHECK(nearest_name("").empty());
    for (const std::string& name : {needles, std::string(10'000, 'x'), std::string("\xed\xa0\x80\x07")})
        CHECK(name_fault(nearest_name(name)).empty());
}

TEST_CASE("entry: a drill has its verdict and no marks, and one bite has no spread", "[logbook]") {
    Scenario drill = scenes::standard_scenario();
    drill.kind = ScenarioKind::depth;
    for (const bool verdict : {true, false}) {
        const Entry entry = make_entry(drill, {}, "", made_card(4), kStamp, verdict).take();
        CHECK(entry.passed == verdict);
        CHECK_FALSE(at(entry.measures, Metric::total));
        CHECK_FALSE(at(entry.measures, Metric::optics));
        CHECK(at(entry.measures, Metric::depth_spread));
    }
    const Entry one = make_entry(drill, {}, "", made_card(1), kStamp, true).take();
    CHECK(at(one.measures, Metric::depth_mean));
    for (const Metric metric : {Metric::depth_spread, Metric::spacing_spread_deg, Metric::tension_spread})
        CHECK_FALSE(at(one.measures, metric));
}

TEST_CASE("skills: one bite in eight may slip, a second may not", "[logbook]") {
    Scorecard card = made_card(8);
    card.bites[0].flags = {BiteFlag::shallow_host};
    CHECK(judge_skills(kStandard, card)[static_cast<std::size_t>(Skill::depth)] == true);
    card.bites[1].flags = {BiteFlag::enters_chamber};
    CHECK(judge_skills(kStandard, card)[static_cast<std::size_t>(Skill::depth)] == false);
    CHECK(judge_skills(kStandard, card)[static_cast<std::size_t>(Skill::direction)] == true);
    // A bite cut out is none of them.
    card.bites[1].flags = {BiteFlag::removed, BiteFlag::enters_chamber};
    card.bites[0].flags.clear();
    CHECK(judge_skills(kStandard, card)[static_cast<std::size_t>(Skill::depth)] == true);
}

TEST_CASE("skills: the level's own limits decide on seal, optics and closure", "[logbook]") {
    const Outcomes outcomes = judge_skills(kStandard, made_card(4));
    CHECK(outcomes[static_cast<std::size_t>(Skill::optics)] == true);
    CHECK(outcomes[static_cast<std::size_t>(Skill::seal)] == false);
    CHECK(outcomes[static_cast<std::size_t>(Skill::closure)] == false);
}

TEST_CASE("skills: what an attempt cannot show is no trial, a wound that found no balance is a failure", "[logbook]") {
    Scorecard card = made_card(2);
    card.score.reset();
    card.attempt.status.converged = false;
    CHECK(letters_of(judge_skills(kStandard, card)) == "+++.....");
    card = made_card(4);
    card.score.reset();
    card.attempt.status.converged = false;
    CHECK(letters_of(judge_skills(kStandard, card)) == "++++.---");
    card = made_card(4);
    card.score->marks.clear();
    CHECK(letters_of(judge_skills(kStandard, card)) == "+++++...");
}

TEST_CASE("skills: letters read back, and what is missing is no trial", "[logbook]") {
    CHECK(outcome_in("+-.", Skill::depth) == true);
    CHECK(outcome_in("+-.", Skill::length) == false);
    CHECK_FALSE(outcome_in("+-.", Skill::direction));
    CHECK_FALSE(outcome_in("+-.", Skill::closure));
}

TEST_CASE("skills: a level's own bites are no hand's, and a drill is no closure", "[logbook]") {
    Scenario scenario = scenes::standard_scenario();
    Scorecard card = made_card(8);
    card.bites[0].flags = card.bites[1].flags = {BiteFlag::shallow_host};
    CHECK(letters_of(judge_skills(scenario, card)) == "-++++-+-");
    scenario.start.bites.resize(2);
    CHECK(letters_of(judge_skills(scenario, card)) == "+++++-+-");
    scenario.kind = ScenarioKind::depth;
    CHECK(letters_of(judge_skills(scenario, card)) == "+++++...");
    scenario.start.bites.resize(8);
    CHECK(letters_of(judge_skills(scenario, card)) == "........");
    const Entry entry = make_entry(scenario, {}, "", card, kStamp, true).take();
    CHECK(entry.passed);
    CHECK(entry.per_bite.empty());
    CHECK_FALSE(at(entry.measures, Metric::depth_spread));
    scenario.start.bites.resize(2);
    CHECK(make_entry(scenario, {}, "", card, kStamp, false).take().per_bite.front().bite == 3);
}

TEST_CASE("entry: of running threads too, the level's own bites are no hand's, and only knots are compared",
          "[logbook]") {
    Scenario scenario = scenes::standard_scenario();
    Attempt attempt;
    attempt.bites.resize(3);
    attempt.runs.resize(2);
    attempt.runs[0].bites.resize(2);
    attempt.runs[1].bites.resize(3);
    Scorecard card = made_card(8);
    for (std::size_t b = 3; b < 8; ++b) card.attempt.tension_mN[b] = 2.0;
    for (BiteMetrics* of_level : {&card.bites[0], &card.bites[3], &card.bites[4]})
        of_level->flags = {BiteFlag::not_radial};
    scenario.start.bites.resize(1);
    scenario.start.runs.resize(1);
    const Entry entry = make_entry(scenario, attempt, "", card, kStamp).take();
    std::vector<int> numbers;
    for (const BiteRow& row : entry.per_bite) numbers.push_back(row.bite);
    CHECK(numbers == std::vector<int>{2, 3, 6, 7, 8});
    CHECK(entry.per_bite.back().tension_mN == 2.0);
    CHECK(*at(entry.measures, Metric::tension_spread) == Approx(0.2));  // 18 and 12 mN
    CHECK(outcome_in(entry.skills, Skill::direction) == true);
    // One knot has no spread.
    scenario.start.bites.resize(2);
    CHECK_FALSE(at(make_entry(scenario, attempt, "", card, kStamp).take().measures, Metric::tension_spread));
}
