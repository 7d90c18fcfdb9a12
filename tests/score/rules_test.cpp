// Marks: full at the limit, none at twice (seal: half) of it, linear between; what drops out and what
// passing means. Measures are made up here, so that each rule is met alone.
#include "score/rules.h"

#include <catch2/catch.hpp>

#include "../scenes/attempts.h"

using namespace graftwright;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double kExact = 1e-9;

// An attempt without a fault, exactly at no limit.
struct Case {
    Scenario scenario = scenes::standard_scenario();
    Attempt attempt;
    ClosureMeasures measures, ideal;

    Case() {
        attempt.bites = scenes::even_bites(scenario, 16, {15.0, 0.90, 1.1});
        attempt.events = {{1.0, "knot", ""}};
        measures.keratometry = keratometry_of_vector({40.0, 0.0, 0.0});
        measures.hoa_rms_um = 1.0;
        measures.tension_mN.assign(16, 15.0);
        measures.profile.resize(4);
        measures.wound.leak_pressure_mmHg = 50.0;
        ideal = measures;
    }
    [[nodiscard]] Score score() const {
        return apply_rules(scenario, attempt, measures, ideal,
                           bite_metrics(scenario, attempt.bites, measures.tension_mN));
    }
    void set_cylinder(double dioptres) { measures.keratometry = keratometry_of_vector({40.0, 0.5 * dioptres, 0.0}); }
};

const Rule& rule(const Score& score, const std::string& start) {
    const auto it = std::find_if(score.rules.begin(), score.rules.end(),
                                 [&](const Rule& r) { return r.what.rfind(start, 0) == 0; });
    if (it == score.rules.end()) throw std::runtime_error("no rule: " + start);
    return *it;
}
bool has_rule(const Score& score, const std::string& start) {
    return std::any_of(score.rules.begin(), score.rules.end(),
                       [&](const Rule& r) { return r.what.rfind(start, 0) == 0; });
}
std::optional<double> points(const Score& score, Part part) {
    for (const PartScore& p : score.parts) {
        if (p.part == part) return p.points;
    }
    return std::nullopt;
}

}  // namespace

TEST_CASE("rules: a faultless attempt earns 35, 30, 15 and 20 and passes", "[score][rules]") {
    const Score score = Case().score();
    CHECK_THAT(score.total, WithinAbs(100.0, kExact));
    CHECK_THAT(points(score, Part::optics).value(), WithinAbs(35.0, kExact));
    CHECK_THAT(points(score, Part::seal).value(), WithinAbs(30.0, kExact));
    CHECK_THAT(points(score, Part::apposition).value(), WithinAbs(15.0, kExact));
    CHECK_THAT(points(score, Part::technique).value(), WithinAbs(20.0, kExact));
    CHECK(score.passed);
    for (const Rule& r : score.rules) {
        INFO(r.what);
        CHECK_FALSE(r.source.empty());
    }
}

TEST_CASE("rules: marks are full at the limit, half midway and none at twice the limit", "[score][rules]") {
    // Share of the limit, share of the marks.
    const auto [times, earned] =
        GENERATE(table<double, double>({{0.0, 1.0}, {1.0, 1.0}, {1.5, 0.5}, {2.0, 0.0}, {3.0, 0.0}}));
    Case c;
    c.set_cylinder(times * *c.scenario.pass.cylinder_D);
    CHECK_THAT(rule(c.score(), "cylinder").share_earned(), WithinAbs(earned, kExact));
    CHECK_THAT(points(c.score(), Part::optics).value(), WithinAbs(10.0 + 25.0 * earned, kExact));

    Case flat;
    flat.ideal.keratometry = keratometry_of_vector({40.0 + times * *flat.scenario.pass.flattening_D, 0.0, 0.0});
    CHECK_THAT(points(flat.score(), Part::optics).value(), WithinAbs(25.0 + 10.0 * earned, kExact));

    Case stepped;
    stepped.measures.profile[2].step_um = -times * *stepped.scenario.pass.step_um;
    CHECK_THAT(rule(stepped.score(), "largest step").share_earned(), WithinAbs(earned, kExact));
    Case gaping;
    gaping.measures.profile[1].posterior_gape_um = times * *gaping.scenario.pass.step_um;
    CHECK_THAT(points(gaping.score(), Part::apposition).value(), WithinAbs(7.5 + 7.5 * earned, kExact));
}

TEST_CASE("rules: the seal has full marks from its limit up and none from half of it down", "[score][rules]") {
    const auto [times, earned] =
        GENERATE(table<double, double>({{2.0, 1.0}, {1.0, 1.0}, {0.75, 0.5}, {0.5, 0.0}, {0.0, 0.0}}));
    Case c;
    c.measures.wound.leak_pressure_mmHg = times * *c.scenario.pass.leak_pressure_mmHg;
    CHECK_THAT(points(c.score(), Part::seal).value(), WithinAbs(30.0 * earned, kExact));
    CHECK(c.score().passed == (times >= 1.0));
}

TEST_CASE("rules: a graft steeper than the ideal loses nothing for flattening", "[score][rules]") {
    Case c;
    c.ideal.keratometry = keratometry_of_vector({35.0, 0.0, 0.0});
    CHECK(rule(c.score(), "flattening").share_earned() == 1.0);
}

TEST_CASE("rules: a limit that is not set drops its rule and the rest is scaled up to 100", "[score][rules]") {
    Case c;
    c.scenario.pass.cylinder_D.reset();
    c.set_cylinder(50.0);
    const Score without = c.score();
    CHECK_FALSE(has_rule(without, "cylinder"));
    CHECK_THAT(without.total, WithinAbs(100.0, kExact));
    CHECK_THAT(points(without, Part::optics).value(), WithinAbs(10.0 * 100.0 / 75.0, kExact));
    CHECK_THAT(points(without, Part::seal).value(), WithinAbs(30.0 * 100.0 / 75.0, kExact));
    CHECK(without.passed);

    c.scenario.pass = {std::nullopt, std::nullopt, std::nullopt, std::nullopt, std::nullopt};
    const Score technique_only = c.score();
    CHECK_FALSE(points(technique_only, Part::optics));
    CHECK_FALSE(points(technique_only, Part::seal));
    CHECK_FALSE(points(technique_only, Part::apposition));
    CHECK_THAT(points(technique_only, Part::technique).value(), WithinAbs(100.0, kExact));
    CHECK(technique_only.passed);
    CHECK(technique_only.marks.empty());
}

TEST_CASE("rules: passing asks for every limit, whatever the total", "[score][rules]") {
    Case c;
    c.set_cylinder(*c.scenario.pass.cylinder_D);
    CHECK(c.score().passed);  // at the limit
    c.set_cylinder(*c.scenario.pass.cylinder_D + 0.01);
    CHECK_FALSE(c.score().passed);
    CHECK(c.score().total > 99.0);

    // The other way round: poor marks for technique do not fail anybody.
    Case poor;
    for (Bite& bite : poor.attempt.bites) bite.graft_depth_um = 0.5 * poor.scenario.graft.thickness_um;
    CHECK_THAT(poor.score().total, WithinAbs(96.0, kExact));  // 2 of 4 for depth, 0 of 2 for the sides' difference
    CHECK(poor.score().passed);

    Case rough;
    rough.scenario.pass.hoa_rms_um = 0.9;
    CHECK_FALSE(rough.score().passed);
    rough.scenario.pass.hoa_rms_um = 1.1;
    CHECK(rough.score().passed);
    rough.measures.hoa_rms_um.reset();  // asked for and not known
    CHECK_FALSE(rough.score().passed);
}

TEST_CASE("rules: depth earns full marks from 0.85 to 0.95 of the thickness and none at 0.70 or through",
          "[score][rules]") {
    const auto [fraction, earned] = GENERATE(table<double, double>(
        {{0.60, 0.0}, {0.70, 0.0}, {0.775, 0.5}, {0.85, 1.0}, {0.95, 1.0}, {0.975, 0.5}, {1.0, 0.0}}));
    INFO(fraction);
    Case c;
    for (Bite& bite : c.attempt.bites) {
        bite.graft_depth_um = fraction * c.scenario.graft.thickness_um;
        bite.host_depth_um = fraction * c.scenario.eye.rim_thickness_um;
    }
    CHECK_THAT(rule(c.score(), "depth: mean mark").share_earned(), WithinAbs(earned, 1e-6));
}

TEST_CASE("rules: each limit of technique is met alone", "[score][rules]") {
    const auto earned = [](Case& c, const char* what) { return rule(c.score(), what).share_earned(); };
    // Marks from one bite that is `times` the limit away, then so far that nothing is left.
    SECTION("depths of the two sides: 0.10 of the thickness, none at 0.20") {
        Case c;
        Bite& bite = c.attempt.bites[5];
        bite.graft_depth_um = 0.75 * 550.0;
        CHECK_THAT(earned(c, "depth: largest difference"), WithinAbs(0.5, 1e-6));
        bite.graft_depth_um = 0.70 * 550.0;
        CHECK_THAT(earned(c, "depth: largest difference"), WithinAbs(0.0, 1e-6));
    }
    SECTION("depth from bite to bite: 0.10 (T8-01), none at 0.20") {
        Case c;
        c.attempt.bites[5].host_depth_um = 0.75 * 620.0;
        CHECK_THAT(earned(c, "depth: range"), WithinAbs(0.5, 1e-6));
    }
    SECTION("lengths: mean within 0.75-1.25 mm, range within 0.25 mm (T8-01)") {
        Case c;
        for (Bite& bite : c.attempt.bites) bite.host_bite_mm = 1.5;
        CHECK_THAT(earned(c, "length: mean"), WithinAbs(0.5, kExact));
        CHECK(earned(c, "length: range") == 1.0);
        c.attempt.bites[3].host_bite_mm = 1.0;
        CHECK_THAT(earned(c, "length: range"), WithinAbs(0.5, kExact));
    }
    SECTION("spacing: range within 0.25 mm (T8-01)") {
        // One bite off by x: one gap grows, its neighbour shrinks, range 2x on the bed's circle.
        Case c;
        c.attempt.bites[15].host_deg += deg_from_rad(0.25 / (0.5 * 7.75));
        CHECK_THAT(earned(c, "spacing"), WithinAbs(0.5, 1e-6));
    }
    SECTION("radial: 5 degrees, none at 15") {
        Case c;
        c.attempt.bites[2].host_skew_mm = 2.2 * std::tan(rad_from_deg(10.0));
        // The exit's arc bends the chord a little: to 0.02 of the marks.
        CHECK_THAT(earned(c, "radial"), WithinAbs(0.5, 0.02));
    }
    SECTION("tension: range over the median 0.4, none at 1") {
        Case c;
        c.measures.tension_mN[7] = 15.0 * 1.7;
        CHECK_THAT(earned(c, "tension"), WithinAbs(0.5, kExact));
    }
    SECTION("events that hurt: none is full, three are nil") {
        Case c;
        c.attempt.events = {{1.0, "trauma", ""}, {2.0, "knot", ""}, {3.0, "iris_caught", ""}};
        CHECK_THAT(earned(c, "events"), WithinAbs(1.0 / 3.0, kExact));
        c.attempt.events.push_back({4.0, "endothelial_touch", ""});
        CHECK_THAT(earned(c, "events"), WithinAbs(0.0, kExact));
        c.attempt.events.clear();  // nobody watched
        CHECK_FALSE(has_rule(c.score(), "events"));
        CHECK_THAT(c.score().total, WithinAbs(100.0, kExact));
    }
}

TEST_CASE("rules: a bite that was cut out counts in no mark of technique", "[score][rules]") {
    Case c;
    const double before = c.score().total;
    Bite spoilt = c.attempt.bites.back();
    spoilt.host_deg = 11.0;
    spoilt.graft_depth_um = 20.0;
    spoilt.host_bite_mm = 2.5;
    spoilt.host_skew_mm = 1.0;
    spoilt.removed = true;
    c.attempt.bites.push_back(spoilt);
    c.measures.tension_mN.push_back(0.0);
    CHECK_THAT(c.score().total, WithinAbs(before, kExact));
}

TEST_CASE("rules: the largest step counts in either direction", "[score][rules]") {
    ClosureMeasures measures;
    measures.profile.resize(3);
    measures.profile[0].step_um = 20.0;
    measures.profile[1].step_um = -35.0;
    measures.profile[2].posterior_gape_um = 4.0;
    CHECK(max_step_um(measures) == 35.0);
    CHECK(max_posterior_gape_um(measures) == 4.0);
}
