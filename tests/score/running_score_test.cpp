// Scores of closures with running threads: whose bite it is, and what the lines say.
#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "../scenes/attempts.h"
#include "score/ideal_twin.h"
#include "score/scorecard.h"
#include "score/scorecard_json.h"
#include "score/scorecard_table.h"

using namespace graftwright;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using nlohmann::json;

namespace {

Run even_run(const Scenario& scenario, int count, double first_deg) {
    Run run;
    for (int k = 0; k < count; ++k) {
        const Bite bite = scenes::bite_at(scenario, std::fmod(first_deg + 360.0 * k / count, 360.0));
        run.bites.push_back({static_cast<const BitePath&>(bite)});
    }
    return run;
}

struct RunsBench {
    Scenario scenario = scenes::standard_scenario();
    ScenarioModel model{scenario, scenes::coarse_options()};
    Attempt combined() const {
        Attempt attempt;
        attempt.bites = scenes::even_bites(scenario, 8);
        attempt.runs = {even_run(scenario, 8, 112.5)};
        attempt.runs[0].worked_mN = 20.0;
        return attempt;
    }
};

}  // namespace

TEST_CASE_METHOD(RunsBench, "runs: lines are single bites, then the run's; a run's line is the mean of its two spans",
                 "[score][runs]") {
    Attempt attempt = combined();
    attempt.runs[0].worked_mN = 8.0;  // tight at the knot
    ScoreOptions no_shares;
    no_shares.shares = false;
    const Scorecard card = score_attempt(model, attempt, no_shares);
    REQUIRE(card.converged());
    CHECK(card.bite_count == 16);
    REQUIRE(card.attempt.tension_mN.size() == 16);
    REQUIRE(card.attempt.span_mN.size() == 1);
    const std::vector<double>& spans = card.attempt.span_mN[0];
    for (std::size_t k = 0; k < 8; ++k)
        CHECK_THAT(card.attempt.tension_mN[8 + k], WithinAbs(0.5 * (spans[(k + 7) % 8] + spans[k]), 1e-12));
    CHECK(spans[7] > 1.3 * spans[3]);  // the knot's span against the one across
    const json out = json::parse(scorecard_json(scenario, card));
    CHECK(out.at("bites") == 16);
    CHECK(out.at("per_bite").size() == 16);
    for (const json& bite : out.at("per_bite")) CHECK(bite.at("tension_mN").is_number());
}

TEST_CASE_METHOD(RunsBench, "runs: a perfect one is its own ideal, and turned as a whole has no fault",
                 "[score][runs]") {
    Attempt attempt;
    attempt.runs = {even_run(scenario, 12, 97.0)};
    attempt.runs[0].friction = 0.0;  // or worked round to the last: all spans alike
    const Scorecard card = score_attempt(model, attempt);
    REQUIRE(card.converged());
    REQUIRE(card.ideal);
    CHECK_THAT(card.attempt.keratometry->cylinder_D, WithinAbs(card.ideal->keratometry->cylinder_D, 1e-6));
    for (const auto& share : card.shares) {
        REQUIRE(share);
        CHECK(share->share_D < 1e-6);
    }
    for (const BiteMetrics& bite : card.bites) CHECK_THAT(bite.spacing_error_deg, WithinAbs(0.0, 1e-9));
}

TEST_CASE_METHOD(RunsBench, "runs: slack that was not worked round is no bite's fault, and the advice says what it is",
                 "[score][runs][slow]") {
    Attempt attempt;
    attempt.runs = {even_run(scenario, 16, 90.0)};
    attempt.runs[0].worked_mN = 0.0;
    const Scorecard card = score_attempt(model, attempt);
    REQUIRE(card.converged());
    REQUIRE(card.ideal);
    for (const auto& share : card.shares) CHECK(share->share_D < 0.3);
    CHECK(card.ideal->wound.leak_pressure_mmHg > card.attempt.wound.leak_pressure_mmHg + 5.0);
    CHECK_THAT(advice(attempt, card), Contains("Run 1 pulls") && Contains("work the slack round"));
    attempt.runs[0].worked_mN = 12.0;  // then a knot as tight as the working was
    const Scorecard tight_knot = score_attempt(model, attempt);
    CHECK_THAT(advice(attempt, tight_knot), !Contains("work the slack round"));
    attempt.runs[0].worked_mN = 23.0;
    const Scorecard worked = score_attempt(model, attempt);
    CHECK_THAT(advice(attempt, worked), !Contains("Run 1 pulls"));
    CHECK(worked.attempt.keratometry->cylinder_D < 0.2);
}

TEST_CASE_METHOD(RunsBench, "runs: the bite that was set amiss gets the largest share, by number in its run",
                 "[score][runs][slow]") {
    Attempt attempt = combined();
    attempt.runs[0].bites[2].graft_bite_mm = 1.9;  // long in the donor: it gathers more tissue than its neighbours
    attempt.runs[0].bites[2].graft_deg += 8.0;
    const Scorecard card = score_attempt(model, attempt);
    REQUIRE(card.converged());
    std::size_t worst = 0;
    for (std::size_t b = 0; b < card.shares.size(); ++b) {
        REQUIRE(card.shares[b]);
        if (card.shares[b]->share_D > card.shares[worst]->share_D) worst = b;
    }
    CHECK(worst == 10);
    CHECK(card.bites[10].flags.size() >= 1);
    const std::string sentence = advice(attempt, card);
    REQUIRE(card.shares[10]->share_D > 0.3);  // else nobody is to blame, and nothing would be tried here
    CHECK_THAT(sentence, Contains("Bite 11 (run 1, bite 3)"));
    CHECK_THAT(scorecard_table(scenario, attempt, card), Contains("run 1"));
    // What the twin's two spans are is no more than they are alone: solved whole, the same closure comes out.
    const std::vector<OrderedBite> twins = ideal_twins(scenario, bites_in_order(attempt));
    Attempt mended = attempt;
    mended.runs[0].bites[2] = {static_cast<const BitePath&>(twins[10])};
    ScoreOptions no_shares;
    no_shares.shares = false;
    const Scorecard whole = score_attempt(model, mended, no_shares);
    const PowerVector apart = card.attempt.keratometry->power - whole.attempt.keratometry->power;
    CHECK_THAT(card.shares[10]->delta.J0_D, WithinAbs(apart.J0_D, 1e-6));
    CHECK_THAT(card.shares[10]->delta.J45_D, WithinAbs(apart.J45_D, 1e-6));
}

TEST_CASE_METHOD(RunsBench, "runs: cut-out scaffolding leaves the run alone in the eye", "[score][runs]") {
    Attempt attempt;
    attempt.bites = scenes::even_bites(scenario, 4);
    for (Bite& bite : attempt.bites) bite.removed = true;
    attempt.runs = {even_run(scenario, 16, 101.25)};
    const Scorecard card = score_attempt(model, attempt);
    REQUIRE(card.converged());
    CHECK(card.bite_count == 16);
    for (std::size_t b = 0; b < 4; ++b) {
        CHECK(card.attempt.tension_mN[b] == 0.0);
        CHECK_FALSE(card.shares[b]);
    }
    CHECK(card.interactions);
    CHECK(card.attempt.wound.leak_pressure_mmHg > scenario.eye.pressure_mmHg);
}

TEST_CASE_METHOD(RunsBench, "runs: too short to hold a chamber says so and prints no number", "[score][runs]") {
    Attempt attempt;
    attempt.runs = {even_run(scenario, 2, 90.0)};
    const Scorecard card = score_attempt(model, attempt);
    CHECK_FALSE(card.converged());
    CHECK_THAT(card.reason(), Contains("fewer than three bites"));
    const json out = json::parse(scorecard_json(scenario, card));
    CHECK(out.at("per_bite").size() == 2);
    CHECK(out.at("per_bite")[0].at("tension_mN").is_null());
}

TEST_CASE_METHOD(RunsBench, "runs: a double running thread holds far more than single bites; one alone about as much",
                 "[score][runs][published]") {
    // Nuzzi et al., Clin Ophthalmol 2022 (figures T3-21): leaks in 10 % of interrupted closures, 5.3 % of single
    // running, none of double running. Sign of the order only: eight single bites at 12 mN against eight and then twice
    // eight bites of running thread, all spans at 12 mN. The double one comes out as published. The single one does
    // not: bite for bite and at one tension it holds a little less than single bites (its surface strands pull
    // obliquely), so what clinics see must come from more bites or other tensions; asserted as computed.
    const auto leak = [&](std::vector<Bite> bites, std::vector<Run> runs) {
        for (Run& run : runs) run.friction = 0.0;
        Attempt attempt;
        attempt.bites = std::move(bites);
        attempt.runs = std::move(runs);
        ScoreOptions no_shares;
        no_shares.shares = false;
        return score_attempt(model, attempt, no_shares).attempt.wound.leak_pressure_mmHg;
    };
    const double single = leak(scenes::even_bites(scenario, 8, {12.0, 0.92, 1.1}), {});
    const double running = leak({}, {even_run(scenario, 8, 90.0)});
    const double twice = leak({}, {even_run(scenario, 8, 90.0), even_run(scenario, 8, 112.5)});
    CAPTURE(single, running, twice);
    CHECK(twice > 1.5 * single);
    CHECK(running > 0.8 * single);
    CHECK(running < single);
}
