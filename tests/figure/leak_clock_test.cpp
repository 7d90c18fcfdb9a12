#include "figure/leak_clock.h"

#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

#include "base/angle.h"
#include "scored.h"

namespace graftwright {
namespace {

TEST_CASE("leak clock: 12 o'clock is up and 3 o'clock to the right, as an examiner sees them", "[figure][geometry]") {
    CHECK(hour_deg(12) == 90.0);
    CHECK(hour_deg(3) == 0.0);
    CHECK(hour_deg(4) == 330.0);
    CHECK(hour_deg(6) == 270.0);
    CHECK(hour_deg(1) == 60.0);
}

TEST_CASE("leak clock: the seal goes by the square root and holds every place", "[figure][geometry]") {
    const Scored& off = scored("second_cardinal_off");
    const auto clock = leak_clock(off.scenario, off.card.attempt);
    REQUIRE(clock);
    for (std::size_t i = 0; i < clock->seal.size(); ++i) {
        CHECK(clock->seal[i].seal_mmHg <= clock->full_mmHg);
        if (i > 0) CHECK(clock->seal[i].deg > clock->seal[i - 1].deg);
    }
    CHECK(clock->share(clock->full_mmHg / 4.0) == Approx(0.5));
    CHECK(clock->share(-1.0) == 0.0);
    CHECK(clock->asked_mmHg.value_or(0.0) == Approx(30.0));
    // The arrow stands where the wound opens first: here, where it also presses least.
    const Scored& tight = scored("tight_pair");
    const auto other = leak_clock(tight.scenario, tight.card.attempt);
    REQUIRE(other);
    const auto weakest = std::min_element(other->seal.begin(), other->seal.end(),
                                          [](const auto& a, const auto& b) { return a.seal_mmHg < b.seal_mmHg; });
    CHECK(std::abs(std::remainder(weakest->deg - other->test.weakest_deg, 360.0)) < 12.0);
    CHECK_FALSE(leak_clock(off.scenario, scored_anew("second_cardinal_off", 2).card.attempt));
}

TEST_CASE("leak clock: the rim has every bite in the eye, and a running thread from each exit to the next entry",
          "[figure][geometry][runs]") {
    Attempt attempt;
    for (const double deg : {90.0, 270.0, 0.0}) attempt.bites.emplace_back().host_deg = deg;
    attempt.bites[1].removed = true;
    attempt.runs.resize(1);
    for (const double deg : {45.0, 135.0, 300.0}) attempt.runs[0].bites.emplace_back().host_deg = deg;
    LeakClock clock;
    mark_bites(clock, attempt);
    REQUIRE(clock.bites.size() == 5);
    CHECK(clock.bites[1].number == 2);
    CHECK(clock.bites[1].deg == 0.0);
    CHECK_FALSE(clock.bites[1].run);
    CHECK(clock.bites[2].run);
    REQUIRE(clock.spans.size() == 3);
    CHECK(clock.spans[0].from_deg == 45.0);
    CHECK(clock.spans[0].to_deg == 135.0);
    CHECK_FALSE(clock.spans[1].knot);
    CHECK(clock.spans[2].from_deg == 300.0);
    CHECK(clock.spans[2].to_deg == 45.0);
    CHECK(clock.spans[2].knot);
    // The shorter way round, over 3 o'clock.
    const std::vector<SlantPoint> way = slant(clock.spans[2]);
    CHECK(way.front().deg == 300.0);
    CHECK(way.back().deg == 405.0);
    CHECK(way.back().inward == 1.0);
    CHECK(kKnotAlong < way.size());
}

}  // namespace
}  // namespace graftwright
