// The whole answer: shares that add up, blame where it belongs, and honesty where there is no closure.
#include "score/scorecard.h"

#include <sstream>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "../scenes/attempts.h"
#include "score/scorecard_json.h"
#include "score/scorecard_table.h"

using namespace graftwright;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using nlohmann::json;

namespace {

// What logic needs; the fine numbers are the golden scores'.
struct SinglesBench {
    Scenario scenario = scenes::standard_scenario();
    ScenarioModel model{scenario, scenes::coarse_options()};

    [[nodiscard]] Scorecard score(const std::vector<Bite>& bites, const ScoreOptions& options = {}) const {
        Attempt attempt;
        attempt.scenario = scenario.id;
        attempt.bites = bites;
        return score_attempt(model, attempt, options);
    }
};

// No closure: not converged, a reason, no number made up, and a table that says so.
void require_no_closure(const SinglesBench& bench, const Attempt& attempt, const std::string& reason) {
    const Scorecard card = score_attempt(bench.model, attempt);
    CHECK_FALSE(card.converged());
    CHECK_THAT(card.reason(), Contains(reason));
    CHECK_FALSE(card.score);
    CHECK_FALSE(card.ideal);
    CHECK_FALSE(card.interactions);
    CHECK(card.shares.size() == attempt.bites.size());
    for (const auto& share : card.shares) CHECK_FALSE(share);
    const json out = json::parse(scorecard_json(bench.scenario, card));
    CHECK(out.at("solver").at("converged") == false);
    CHECK_THAT(out.at("solver").at("reason").get<std::string>(), Contains(reason));
    for (const auto& [key, value] : out.at("keratometry").items()) CHECK(value.is_null());
    for (const auto& [key, value] : out.at("power_vector").items()) CHECK(value.is_null());
    for (const auto& [key, value] : out.at("ideal").items()) CHECK(value.is_null());
    CHECK(out.at("hoa_rms_um").is_null());
    for (const auto& [key, value] : out.at("wound").items()) {
        INFO(key);
        CHECK((key == "profile" ? value.empty() : value.is_null()));
    }
    CHECK(out.at("score").at("total").is_null());
    CHECK(out.at("score").at("passed") == false);
    for (const json& bite : out.at("per_bite")) {
        CHECK(bite.at("tension_mN").is_null());
        CHECK(bite.at("share_D").is_null());
        CHECK(bite.at("depth_fraction_graft").is_number());  // a ruler needs no closure
    }
    CHECK_THAT(scorecard_table(bench.scenario, attempt, card), Contains("no closure: ") && Contains(reason));
    CHECK(scorecard_explanation(card).empty());
}

}  // namespace

TEST_CASE("scorecard: an eye too soft for the highest pressures is scored as far as it stands", "[score]") {
    Scenario soft = scenes::standard_scenario();
    soft.eye.modulus_kPa = soft.graft.modulus_kPa = 50.0;  // the softest that a file may ask for
    const SinglesBench bench{soft, ScenarioModel(soft, scenes::coarse_options())};
    REQUIRE(bench.model.wound().limited());
    const double highest_mmHg = mmhg_from_mpa(bench.model.wound().highest_pressure());
    CHECK(highest_mmHg > 15.0);
    ScoreOptions quick;
    quick.shares = false;
    const Scorecard card = bench.score(scenes::even_bites(soft, 16), quick);
    INFO(card.reason());
    REQUIRE(card.converged());
    // No leak found above what the model stands: that bound, marked.
    const WoundTest& wound = card.attempt.wound;
    CAPTURE(highest_mmHg, wound.leak_pressure_mmHg, wound.capped);
    CHECK(wound.leak_pressure_mmHg <= highest_mmHg + 1e-9);
    CHECK(wound.capped == (wound.leak_pressure_mmHg > highest_mmHg - kLeakResolution_mmHg));
    // Read at more than that: no closure, and the reason.
    soft.eye.pressure_mmHg = 100.0;
    const SinglesBench pressed{soft, ScenarioModel(soft, scenes::coarse_options())};
    Attempt attempt;
    attempt.scenario = soft.id;
    attempt.bites = scenes::even_bites(soft, 16);
    require_no_closure(pressed, attempt, "would give way");
}

TEST_CASE_METHOD(SinglesBench, "scorecard: a perfect attempt is its own ideal and no bite is to blame",
                 "[score][slow]") {
    Attempt attempt;
    attempt.bites = scenes::even_bites(scenario, 16);
    const Scorecard card = score_attempt(model, attempt);
    REQUIRE(card.converged());
    REQUIRE(card.ideal);
    CHECK_THAT(card.attempt.keratometry->mean_D, WithinAbs(card.ideal->keratometry->mean_D, 1e-3));
    for (const auto& share : card.shares) {
        REQUIRE(share);
        CHECK(share->share_D < 0.02);
        CHECK_THAT(share->share_leak_mmHg, WithinAbs(0.0, 2.0 * kLeakResolution_mmHg));
    }
    CHECK(card.bite_count == 16);
    CHECK_THAT(advice(attempt, card), Contains("No single bite stands out"));
}

TEST_CASE_METHOD(SinglesBench, "scorecard: shares and interactions add up to what the attempt lost against its ideal",
                 "[score][slow]") {
    std::vector<Bite> bites = scenes::even_bites(scenario, 8);
    bites[1].host_deg += 8.0;
    bites[2].tension_mN = 30.0;
    bites[5].graft_depth_um = 300.0;
    bites[6].host_bite_mm = 1.6;
    const Scorecard card = score(bites);
    REQUIRE(card.converged());
    REQUIRE(card.interactions);
    PowerVector sum = *card.interactions;
    for (const auto& share : card.shares) {
        REQUIRE(share);
        sum = {sum.M_D + share->delta.M_D, sum.J0_D + share->delta.J0_D, sum.J45_D + share->delta.J45_D};
        // share = 2|Δ| with Δ's own steep axis.
        CHECK_THAT(share->share_D, WithinAbs(2.0 * share->delta.half_cylinder_D(), 1e-12));
        CHECK_THAT(share->share_axis_deg, WithinAbs(keratometry_of_vector(share->delta).steep_axis_deg, 1e-12));
    }
    const PowerVector lost = card.attempt.keratometry->power - card.ideal->keratometry->power;
    CHECK_THAT(sum.J0_D, WithinAbs(lost.J0_D, 1e-10));
    CHECK_THAT(sum.J45_D, WithinAbs(lost.J45_D, 1e-10));
    CHECK_THAT(sum.M_D, WithinAbs(lost.M_D, 1e-10));
}

TEST_CASE_METHOD(SinglesBench, "scorecard: a second cardinal bite off its mark gets the blame by far",
                 "[score][slow]") {
    Attempt attempt;
    attempt.bites = scenes::even_bites(scenario, 16);
    attempt.bites[1].host_deg = 281.0;
    const Scorecard card = score_attempt(model, attempt);
    REQUIRE(card.converged());
    REQUIRE(card.shares[1]);
    for (std::size_t b = 0; b < card.shares.size(); ++b) {
        INFO("bite " << b + 1);
        REQUIRE(card.shares[b]);
        if (b != 1) CHECK(card.shares[b]->share_D < 0.1 * card.shares[1]->share_D);
    }
    // With the one twin in its place the attempt is the ideal.
    CHECK_THAT(card.interactions->half_cylinder_D(), WithinAbs(0.0, 0.02));
    CHECK_THAT(advice(attempt, card), Contains("Bite 2 at 5:30 (281°)") && Contains("+11° off its mark"));
    CHECK(card.shares[1]->share_leak_mmHg > 5.0);
}

TEST_CASE_METHOD(SinglesBench, "scorecard: what was cut out is shared by nobody and carries nothing", "[score][slow]") {
    std::vector<Bite> bites = scenes::even_bites(scenario, 8);
    Bite spoilt = scenes::bite_at(scenario, 100.0, {40.0, 0.6, 1.3});
    spoilt.removed = true;
    bites.insert(bites.begin() + 2, spoilt);
    const Scorecard card = score(bites);
    REQUIRE(card.converged());
    CHECK(card.bite_count == 8);
    CHECK_FALSE(card.shares[2]);
    CHECK(card.attempt.tension_mN[2] == 0.0);
    CHECK(card.shares[1]);
    CHECK(card.interactions);
    const json out = json::parse(scorecard_json(scenario, card));
    CHECK(out.at("bites") == 8);
    CHECK(out.at("per_bite").size() == 9);
    CHECK(out.at("per_bite").at(2).at("share_D").is_null());
    CHECK(out.at("per_bite").at(2).at("flags").at(0) == "removed");
}

TEST_CASE_METHOD(
    SinglesBench,
    "scorecard: a bite cut out before the end leaves the closure as if it had never been, but for friction",
    "[score][slow]") {
    const std::vector<Bite> without = scenes::even_bites(scenario, 8);
    std::vector<Bite> with = without;
    for (const Bite& extra : scenes::even_bites(scenario, 16)) {
        const bool known =
            std::any_of(without.begin(), without.end(), [&](const Bite& b) { return b.host_deg == extra.host_deg; });
        if (known) continue;
        with.push_back(extra);
        with.back().removed = true;
    }
    const ClosureMeasures plain = scenes::tied(model, without), cut = scenes::tied(model, with);
    // What friction keeps of a closure that was: our choice of bound.
    CHECK_THAT(cut.keratometry->cylinder_D, WithinAbs(plain.keratometry->cylinder_D, 0.05));
    CHECK_THAT(cut.keratometry->mean_D, WithinAbs(plain.keratometry->mean_D, 0.05));
}

TEST_CASE_METHOD(SinglesBench, "scorecard: one or two bites hold nothing, and it says so", "[score]") {
    const int bites = GENERATE(1, 2);
    Attempt attempt;
    attempt.bites = scenes::even_bites(scenario, bites);
    require_no_closure(*this, attempt, "fewer than three bites do not hold a filled chamber");
}

TEST_CASE_METHOD(SinglesBench, "scorecard: three bites of which one was cut out hold nothing either", "[score]") {
    Attempt attempt;
    attempt.bites = scenes::even_bites(scenario, 3);
    attempt.bites[1].removed = true;
    require_no_closure(*this, attempt, "fewer than three bites");
}

TEST_CASE_METHOD(SinglesBench, "scorecard: three bites on one side do not hold the donor, three spread evenly do",
                 "[score]") {
    Attempt attempt;
    for (const double deg : {60.0, 90.0, 120.0}) attempt.bites.push_back(scenes::bite_at(scenario, deg));
    require_no_closure(*this, attempt, "");
    CHECK_FALSE(score(attempt.bites).reason().empty());
    ScoreOptions no_shares;
    no_shares.shares = false;
    const Scorecard even = score(scenes::even_bites(scenario, 3), no_shares);
    REQUIRE(even.converged());
    CHECK(even.attempt.wound.leak_pressure_mmHg < scenario.eye.pressure_mmHg);
}

TEST_CASE_METHOD(SinglesBench, "scorecard: without shares the rest is the same to the bit", "[score][slow]") {
    std::vector<Bite> bites = scenes::even_bites(scenario, 6);
    bites[3].tension_mN = 22.0;
    ScoreOptions no_shares;
    no_shares.shares = false;
    const Scorecard with = score(bites), without = score(bites, no_shares);
    for (const auto& share : without.shares) CHECK_FALSE(share);
    CHECK_FALSE(without.interactions);
    CHECK(with.attempt.keratometry->cylinder_D == without.attempt.keratometry->cylinder_D);
    CHECK(with.score->total == without.score->total);
}

TEST_CASE_METHOD(SinglesBench, "scorecard: the number of threads changes no bit of the answer", "[score][slow]") {
    std::vector<Bite> bites = scenes::even_bites(scenario, 6);
    bites[2].host_deg += 3.0;
    ScoreOptions one, three;
    one.threads = 1;
    three.threads = 3;
    CHECK(scorecard_json(scenario, score(bites, one)) == scorecard_json(scenario, score(bites, three)));
}

TEST_CASE_METHOD(SinglesBench, "scorecard: progress counts every closure once, up to all", "[score][slow]") {
    std::vector<std::size_t> seen;
    ScoreOptions options;
    options.progress = [&](std::size_t done, std::size_t all) {
        CHECK(all == 2 + 4);
        seen.push_back(done);
    };
    REQUIRE(score(scenes::even_bites(scenario, 4), options).converged());
    CHECK(seen == std::vector<std::size_t>{1, 2, 3, 4, 5, 6});
}

TEST_CASE_METHOD(SinglesBench, "scorecard: the table of an even attempt fits in a hundred columns", "[score]") {
    ScoreOptions no_shares;
    no_shares.shares = false;
    Attempt attempt;
    attempt.bites = scenes::even_bites(scenario, 4);
    const Scorecard card = score_attempt(model, attempt, no_shares);
    REQUIRE(card.converged());
    const std::string table = scorecard_table(scenario, attempt, card);
    CHECK_THAT(table, Contains("not a medical device") && Contains("certifies nobody"));
    std::size_t longest = 0;
    std::string line;
    for (std::istringstream lines(table); std::getline(lines, line);) {
        // Columns, not bytes: continuation bytes of UTF-8 take none.
        const auto columns = std::count_if(line.begin(), line.end(), [](char c) { return (c & '\xc0') != '\x80'; });
        longest = std::max(longest, static_cast<std::size_t>(columns));
    }
    CHECK(longest <= 100);
    CHECK(longest > 60);
}
