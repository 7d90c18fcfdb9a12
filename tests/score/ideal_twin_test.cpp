// Slots, twins, and the donor's turn: whose mark is where, when some are missed.
#include "score/ideal_twin.h"

#include <array>
#include <rapidcheck.h>

#include <catch2/catch.hpp>

#include "../scenes/attempts.h"
#include "base/angle.h"
#include "base/statistics.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using scenes::apart_deg;

namespace {

std::vector<Bite> turned(std::vector<Bite> bites, double deg) {
    for (Bite& bite : bites) {
        bite.host_deg = std::fmod(bite.host_deg + deg + 720.0, 360.0);
        bite.graft_deg = std::fmod(bite.graft_deg + deg + 720.0, 360.0);
    }
    return bites;
}

}  // namespace

TEST_CASE("slots: a pattern turned as a whole has no fault", "[score][twin]") {
    const double deg = GENERATE(0.0, 7.0, -11.0, 95.5, 359.0);
    const std::vector<Bite> bites = turned(scenes::even_bites(scenes::standard_scenario(), 16), deg);
    const std::vector<double> slots = slots_deg(bites);
    for (std::size_t b = 0; b < bites.size(); ++b)
        CHECK_THAT(apart_deg(slots[b], bites[b].host_deg), WithinAbs(0.0, 1e-9));
}

TEST_CASE("slots: one bite 11 degrees off keeps its mark and everybody else's", "[score][twin]") {
    const std::size_t off = GENERATE(0U, 1U, 2U, 15U);
    const double by = GENERATE(11.0, -11.0);
    const std::vector<Bite> even = scenes::even_bites(scenes::standard_scenario(), 16);
    std::vector<Bite> bites = even;
    bites[off].host_deg = std::fmod(bites[off].host_deg + by + 360.0, 360.0);
    const std::vector<double> slots = slots_deg(bites);
    for (std::size_t b = 0; b < bites.size(); ++b) {
        INFO("bite " << b);
        CHECK_THAT(apart_deg(slots[b], even[b].host_deg), WithinAbs(0.0, 1e-9));
    }
}

TEST_CASE("slots: the marks do not depend on the order of tying", "[score][twin]") {
    std::vector<Bite> bites = scenes::even_bites(scenes::standard_scenario(), 12);
    bites[3].host_deg += 5.0;
    const std::vector<double> slots = slots_deg(bites);
    std::vector<Bite> backwards(bites.rbegin(), bites.rend());
    const std::vector<double> reversed = slots_deg(backwards);
    for (std::size_t b = 0; b < bites.size(); ++b)
        CHECK_THAT(apart_deg(slots[b], reversed[bites.size() - 1 - b]), WithinAbs(0.0, 1e-9));
}

TEST_CASE("slots: a bite that was cut out has none, and the rest share the circle", "[score][twin]") {
    std::vector<Bite> bites = scenes::even_bites(scenes::standard_scenario(), 8);
    Bite spoilt = bites[0];
    spoilt.host_deg = spoilt.graft_deg = 101.0;
    spoilt.removed = true;
    bites.insert(bites.begin() + 3, spoilt);
    const std::vector<double> slots = slots_deg(bites);
    for (std::size_t b = 0; b < bites.size(); ++b)
        CHECK_THAT(apart_deg(slots[b], bites[b].host_deg), WithinAbs(0.0, 1e-9));
    for (Bite& bite : bites) bite.removed = true;
    CHECK(slots_deg(bites)[3] == 101.0);
}

TEST_CASE("slots: equally spaced and one to one, whatever the hand did", "[score][twin][property]") {
    REQUIRE(rc::check("slots are a turned equal pattern in the bites' own order round the eye", [] {
        const int n = *rc::gen::inRange(1, 33);
        std::vector<Bite> bites(static_cast<std::size_t>(n));
        for (Bite& bite : bites) bite.host_deg = *rc::gen::inRange(0, 36000) / 100.0;
        std::vector<double> slots = slots_deg(bites);
        for (double& slot : slots) slot = std::fmod(slot + 3600.0, 360.0);
        std::sort(slots.begin(), slots.end());
        for (std::size_t k = 1; k < slots.size(); ++k) RC_ASSERT(std::abs(slots[k] - slots[k - 1] - 360.0 / n) < 1e-6);
    }));
}

TEST_CASE("twins: an even attempt is its own ideal", "[score][twin]") {
    const Scenario scenario = scenes::standard_scenario();
    const std::vector<Bite> bites = turned(scenes::even_bites(scenario, 16), 13.0);
    const std::vector<Bite> twins = ideal_twins(scenario, bites);
    for (std::size_t b = 0; b < bites.size(); ++b) {
        CHECK_THAT(apart_deg(twins[b].host_deg, bites[b].host_deg), WithinAbs(0.0, 1e-9));
        CHECK_THAT(apart_deg(twins[b].graft_deg, bites[b].graft_deg), WithinAbs(0.0, 1e-9));
        CHECK_THAT(twins[b].graft_depth_um, WithinAbs(bites[b].graft_depth_um, 1e-9));
        CHECK_THAT(twins[b].host_depth_um, WithinAbs(bites[b].host_depth_um, 1e-9));
        CHECK(twins[b].tension_mN == bites[b].tension_mN);
    }
}

TEST_CASE("twins: every fault is taken out, the place in the order stays", "[score][twin]") {
    const Scenario scenario = scenes::standard_scenario();
    std::vector<Bite> bites = scenes::even_bites(scenario, 16);
    // The donor lies turned by 4° in its bed.
    for (Bite& bite : bites) bite.graft_deg = std::fmod(bite.graft_deg - 4.0 + 360.0, 360.0);
    bites[1] = {{262.0, 281.0, 0.2, -0.3, 0.7, 1.6, 200.0, 600.0, 40.0, 55.0}, 44.0, "3-1-1", false};
    const Bite twin = ideal_twins(scenario, bites)[1];
    CHECK_THAT(apart_deg(twin.host_deg, 270.0), WithinAbs(0.0, 1e-9));
    CHECK_THAT(apart_deg(twin.graft_deg, 266.0), WithinAbs(0.0, 1e-9));
    CHECK(twin.graft_skew_mm == 0.0);
    CHECK(twin.host_skew_mm == 0.0);
    CHECK(twin.graft_bite_mm == 1.1);
    CHECK(twin.host_bite_mm == 1.1);
    CHECK_THAT(twin.graft_depth_um, WithinAbs(0.92 * 550.0, 1e-9));
    CHECK_THAT(twin.host_depth_um, WithinAbs(0.92 * 620.0, 1e-9));
    CHECK(twin.graft_entry_deg == 90.0);
    CHECK(twin.host_exit_deg == 90.0);
    CHECK(twin.tension_mN == 15.0);  // the attempt's median
}

TEST_CASE("twins: a bite that was cut out stays as it was and moves no median", "[score][twin]") {
    const Scenario scenario = scenes::standard_scenario();
    std::vector<Bite> bites = scenes::even_bites(scenario, 3, {12.0, 0.9, 1.0});
    Bite spoilt = scenes::bite_at(scenario, 33.0, {80.0, 0.4, 0.6});
    spoilt.removed = true;
    bites.push_back(spoilt);
    const std::vector<Bite> twins = ideal_twins(scenario, bites);
    CHECK(twins.back() == spoilt);
    CHECK(twins.front().tension_mN == 12.0);
}

TEST_CASE("median: middle of an odd number, mean of the middle two of an even", "[score][twin]") {
    CHECK(median({3.0}) == 3.0);
    CHECK(median({5.0, 1.0, 3.0}) == 3.0);
    CHECK(median({4.0, 1.0, 3.0, 100.0}) == 3.5);
}

TEST_CASE("donor turn: the median of host less graft, the short way round", "[score][twin]") {
    const auto turn_deg = [](std::vector<std::array<double, 2>> graft_host) {
        std::vector<Bite> bites(graft_host.size());
        for (std::size_t b = 0; b < bites.size(); ++b) {
            bites[b].graft_deg = graft_host[b][0];
            bites[b].host_deg = graft_host[b][1];
        }
        return deg_from_rad(donor_turn(bites));
    };
    CHECK_THAT(turn_deg({{90.0, 90.0}}), WithinAbs(0.0, 1e-9));
    CHECK_THAT(turn_deg({{355.0, 5.0}, {85.0, 95.0}, {265.0, 275.0}}), WithinAbs(10.0, 1e-9));
    CHECK_THAT(turn_deg({{5.0, 355.0}, {95.0, 85.0}, {275.0, 265.0}}), WithinAbs(-10.0, 1e-9));
    // One bite that slipped does not turn the donor.
    CHECK_THAT(turn_deg({{90.0, 90.0}, {270.0, 281.0}, {0.0, 0.0}, {180.0, 180.0}, {45.0, 45.0}}),
               WithinAbs(0.0, 1e-9));
    // Half a turn and a little either way: not torn apart to zero.
    CHECK_THAT(std::abs(turn_deg({{0.0, 179.0}, {90.0, 271.0}, {180.0, 0.0}})), WithinAbs(180.0, 1e-9));
}

TEST_CASE("scenes: bites are tied in the taught order, cardinals first", "[score][twin]") {
    CHECK(scenes::cardinal_first_deg(16) == std::vector<double>{90, 270, 0, 180, 45, 225, 135, 315, 22.5, 202.5, 112.5,
                                                                292.5, 67.5, 247.5, 157.5, 337.5});
    CHECK(scenes::cardinal_first_deg(4) == std::vector<double>{90, 270, 0, 180});
}
