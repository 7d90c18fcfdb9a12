// The knot in the hand: what throws keep, what they give back, what is too much.
#include "hand/knot_in_hand.h"

#include <catch2/catch.hpp>

#include "base/units.h"
#include "hand/section_drive.h"

namespace graftwright {
namespace {

void pull(KnotInHand& knot, double mN, double seconds = 1.0) {
    knot.pull(mN);
    for (int tick = 0; tick < seconds * kTicksPerSecond; ++tick) knot.step();
}

TEST_CASE("knot: capstan ratios of one and two turns", "[hand][handbook]") {
    // T9-01: µ 0.3, one turn 6.586, two turns 43.376; T9-07: 0.3 over π/2 gives 1.602.
    CHECK(capstan_ratio(0.3, 2.0 * kPi) == Approx(6.586).margin(1e-3));
    CHECK(capstan_ratio(0.3, 4.0 * kPi) == Approx(43.376).margin(1e-3));
    CHECK(capstan_ratio(0.3, kPi / 2.0) == Approx(1.602).margin(1e-3));
}

TEST_CASE("knot: tension follows the hand, and a single throw gives back what it can't hold", "[hand]") {
    KnotInHand knot{KnotLimits{}};
    knot.lay({3, true});
    pull(knot, 30.0);
    CHECK(knot.loop_mN() == Approx(30.0).margin(0.1));
    pull(knot, 0.0, 2.0);
    CHECK(knot.loop_mN() == Approx(knot.held_mN()).margin(0.1));
    CHECK(knot.loop_mN() < 25.0);
    KnotInHand one{KnotLimits{}};
    one.lay({1, true});
    pull(one, 30.0);
    pull(one, 0.0, 2.0);
    CHECK(one.loop_mN() < knot.loop_mN());
}

TEST_CASE("knot: a same-way throw slides, a reversed one locks what the loop has but a little", "[hand]") {
    KnotInHand knot{KnotLimits{}};
    knot.lay({3, true});
    knot.lay({1, true});
    CHECK(knot.kind() == KnotKind::sliding);
    pull(knot, 20.0);
    pull(knot, 12.0);
    CHECK(knot.loop_mN() == Approx(12.0).margin(0.1));
    knot.lay({1, false});
    CHECK(knot.locked());
    CHECK_FALSE(knot.square());
    const double kept = knot.loop_mN();
    CHECK(kept < 12.0);
    CHECK(kept > 11.0);
    pull(knot, 0.0);
    pull(knot, 30.0);
    CHECK(knot.loop_mN() == kept);
    CHECK(knot.throws_text() == "3-1-1");
}

TEST_CASE("knot: every throw reversed is square, and says so", "[hand]") {
    KnotInHand knot{KnotLimits{}};
    knot.lay({3, true});
    knot.lay({1, false});
    knot.lay({1, true});
    CHECK(knot.square());
    CHECK(knot.throws_text() == "3-1-1");
}

TEST_CASE("knot: a knotted strand breaks at about half of a straight one", "[hand][published]") {
    // T1-14: knotted over straight at most 0.61 (inferred, 3-0 nylon).
    KnotInHand knot{KnotLimits{190.0, 500.0, 1.1}};
    knot.lay({3, true});
    pull(knot, 85.0);
    CHECK_FALSE(knot.broken());
    pull(knot, 0.61 * 190.0 + 1.0, 2.0);
    CHECK(knot.broken());
    CHECK(knot.loop_mN() == 0.0);
}

TEST_CASE("knot: a deep long bite stands any sensible pull, a short shallow one tears out", "[hand]") {
    CHECK(cut_limit_mN(1.1, 0.92, 1000.0) > 40.0);
    CHECK(cut_limit_mN(0.3, 0.5, 1000.0) < 60.0);
    CHECK(cut_limit_mN(1.1, 0.92, 500.0) < cut_limit_mN(1.1, 0.92, 1000.0));
    KnotInHand weak{KnotLimits{190.0, cut_limit_mN(0.3, 0.5, 1000.0), 0.3}};
    weak.lay({3, true});
    pull(weak, 90.0, 4.0);
    CHECK(weak.torn_out());
    CHECK(weak.loop_mN() == 0.0);
}

TEST_CASE("knot: nonsense does no harm", "[hand]") {
    KnotInHand knot{KnotLimits{}};
    for (int i = 0; i < 20; ++i) knot.lay({i - 5, i % 2 == 0});
    CHECK(knot.throws().size() == 8);
    pull(knot, std::nan(""));
    pull(knot, -50.0);
    CHECK(std::isfinite(knot.loop_mN()));
    pull(knot, 1e300);
    CHECK(knot.broken());
}

}  // namespace
}  // namespace graftwright
