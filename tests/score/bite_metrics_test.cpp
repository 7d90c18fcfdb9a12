// What a ruler finds on each bite, and the flags.
#include "score/bite_metrics.h"

#include <numeric>

#include <catch2/catch.hpp>

#include "../scenes/attempts.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;

namespace {

using Flags = std::vector<BiteFlag>;

// Metrics of one bite among sixteen even ones, after `change` was done to it.
template <typename Change>
BiteMetrics metrics_of(Change change) {
    const Scenario scenario = scenes::standard_scenario();
    std::vector<Bite> bites = scenes::even_bites(scenario, 16, {15.0, 0.90, 1.1});
    change(bites[4]);
    return bite_metrics(scenario, bites, {})[4];
}

}  // namespace

TEST_CASE("bite metrics: an even bite has no error and no flag", "[score][metrics]") {
    const BiteMetrics m = metrics_of([](Bite&) {});
    CHECK_THAT(m.depth_fraction_graft, WithinAbs(0.90, 1e-12));
    CHECK_THAT(m.depth_fraction_host, WithinAbs(0.90, 1e-12));
    CHECK_THAT(m.radial_error_deg, WithinAbs(0.0, 1e-9));
    CHECK_THAT(m.spacing_error_deg, WithinAbs(0.0, 1e-9));
    CHECK(m.bite_ratio == 1.0);
    CHECK(m.flags.empty());
}

TEST_CASE("bite metrics: the radial error is the chord's, plus counter-clockwise", "[score][metrics]") {
    // Entry and exit 2.2 mm apart; exit 0.1 mm aside: atan(0.1/2.2) = 2.60°.
    CHECK_THAT(metrics_of([](Bite& b) { b.host_skew_mm = 0.1; }).radial_error_deg, WithinAbs(2.60, 0.01));
    CHECK_THAT(metrics_of([](Bite& b) { b.host_skew_mm = -0.1; }).radial_error_deg, WithinAbs(-2.60, 0.01));
    CHECK_THAT(metrics_of([](Bite& b) { b.graft_skew_mm = 0.1; }).radial_error_deg, WithinAbs(-2.60, 0.01));
    // Both aside by 0.02 rad: radial in itself, but not where it crosses the wound, and that counts.
    CHECK_THAT(metrics_of([](Bite& b) {
                   b.graft_skew_mm = 0.02 * (3.875 - 1.1);
                   b.host_skew_mm = 0.02 * (3.875 + 1.1);
               }).radial_error_deg,
               WithinAbs(deg_from_rad(0.02), 1e-6));
    // Sides 2° apart: (4.975 + 2.775) sin 1° across, (4.975 − 2.775) cos 1° along.
    CHECK_THAT(metrics_of([](Bite& b) { b.host_deg += 2.0; }).radial_error_deg, WithinAbs(3.52, 0.01));
}

TEST_CASE("bite metrics: a donor turned in its bed is no error of any bite", "[score][metrics]") {
    const Scenario scenario = scenes::standard_scenario();
    std::vector<Bite> bites = scenes::even_bites(scenario, 16);
    for (Bite& bite : bites) bite.graft_deg = std::fmod(bite.graft_deg + 350.0, 360.0);
    for (const BiteMetrics& m : bite_metrics(scenario, bites, {})) CHECK_THAT(m.radial_error_deg, WithinAbs(0.0, 1e-9));
}

TEST_CASE("bite metrics: every limit raises its own flag", "[score][metrics]") {
    const auto flags = [](auto change) { return metrics_of(change).flags; };
    CHECK(flags([](Bite& b) { b.graft_depth_um = 0.84 * 550.0; }) == Flags{BiteFlag::shallow_graft});
    CHECK(flags([](Bite& b) { b.host_depth_um = 0.84 * 620.0; }) == Flags{BiteFlag::shallow_host});
    CHECK(flags([](Bite& b) { b.graft_depth_um = 0.96 * 550.0; }) == Flags{BiteFlag::deep_graft});
    CHECK(flags([](Bite& b) { b.host_depth_um = 0.96 * 620.0; }) == Flags{BiteFlag::deep_host});
    CHECK(flags([](Bite& b) { b.host_depth_um = 620.0; }) == Flags{BiteFlag::enters_chamber, BiteFlag::deep_host});
    CHECK(flags([](Bite& b) { b.graft_depth_um = 0.79 * 550.0; }) ==
          Flags{BiteFlag::shallow_graft, BiteFlag::depths_differ});
    CHECK(flags([](Bite& b) { b.graft_bite_mm = b.host_bite_mm = 0.74; }) ==
          Flags{BiteFlag::short_graft, BiteFlag::short_host});
    CHECK(flags([](Bite& b) { b.graft_bite_mm = b.host_bite_mm = 1.26; }) ==
          Flags{BiteFlag::long_graft, BiteFlag::long_host});
    CHECK(flags([](Bite& b) { b.host_bite_mm = 0.98; }) == Flags{BiteFlag::ratio});
    CHECK(flags([](Bite& b) {
              b.graft_bite_mm = 0.9;
              b.host_bite_mm = 1.22;
          }) == Flags{BiteFlag::ratio});
    CHECK(flags([](Bite& b) {
              b.graft_bite_mm = 0.9;
              b.host_bite_mm = 1.2;
          }).empty());  // 1.33: host slightly longer
    CHECK(flags([](Bite& b) { b.host_skew_mm = 0.25; }) == Flags{BiteFlag::not_radial});
    CHECK(flags([](Bite& b) {
              b.host_deg += 4.0;
              b.graft_deg += 4.0;
          }) == Flags{BiteFlag::off_slot});
    CHECK(flags([](Bite& b) { b.removed = true; }).front() == BiteFlag::removed);
}

TEST_CASE("bite metrics: loose and tight are against the median of what is in the eye", "[score][metrics]") {
    const Scenario scenario = scenes::standard_scenario();
    std::vector<Bite> bites = scenes::even_bites(scenario, 8, {15.0, 0.90, 1.1});
    std::vector<double> tension(8, 16.0);
    tension[1] = 7.9;
    tension[2] = 24.1;
    tension[3] = 8.1;
    tension[4] = 23.9;
    const auto flags = [&](std::size_t b) { return bite_metrics(scenario, bites, tension)[b].flags; };
    CHECK(flags(0).empty());
    CHECK(flags(1) == Flags{BiteFlag::loose});
    CHECK(flags(2) == Flags{BiteFlag::tight});
    CHECK(flags(3).empty());
    CHECK(flags(4).empty());
    // Not known: no flag. Cut out: no tension to speak of.
    CHECK(bite_metrics(scenario, bites, {})[1].flags.empty());
    bites[1].removed = true;
    tension[1] = 0.0;
    const Flags removed = flags(1);
    CHECK(std::find(removed.begin(), removed.end(), BiteFlag::loose) == removed.end());
}

TEST_CASE("bite metrics: even spacing on a 7.75 mm bed is what the circle gives", "[score][metrics]") {
    // π D/N, figures T4-08 (from memory, and arithmetic).
    const Scenario scenario = scenes::standard_scenario();
    const auto [bites, spacing_mm] = GENERATE(table<int, double>({{8, 3.043}, {12, 2.029}, {16, 1.522}, {24, 1.014}}));
    const std::vector<double> spacings = spacings_mm(scenario, scenes::even_bites(scenario, bites));
    REQUIRE(spacings.size() == static_cast<std::size_t>(bites));
    for (const double spacing : spacings) CHECK_THAT(spacing, WithinAbs(spacing_mm, 5e-4));
    CHECK_THAT(std::accumulate(spacings.begin(), spacings.end(), 0.0), WithinAbs(kPi * 7.75, 1e-9));
}

TEST_CASE("bite metrics: spacings close the circle and skip what was cut out", "[score][metrics]") {
    const Scenario scenario = scenes::standard_scenario();
    std::vector<Bite> bites = scenes::even_bites(scenario, 8);
    bites.back().removed = true;
    const std::vector<double> spacings = spacings_mm(scenario, bites);
    CHECK(spacings.size() == 7);
    CHECK_THAT(std::accumulate(spacings.begin(), spacings.end(), 0.0), WithinAbs(kPi * 7.75, 1e-9));
    CHECK_THAT(*std::max_element(spacings.begin(), spacings.end()), WithinAbs(2.0 * 3.043, 1e-3));
    const std::vector<double> alone = spacings_mm(scenario, {bites.front()});
    REQUIRE(alone.size() == 1);
    CHECK_THAT(alone.front(), WithinAbs(kPi * 7.75, 1e-9));
}
