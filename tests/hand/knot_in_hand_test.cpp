#include "hand/knot_in_hand.h"

#include <algorithm>

#include <catch2/catch.hpp>

#include "base/units.h"
#include "hand/section_drive.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// knot_in_hand.cpp's choices.
constexpr double kFriction = 0.15, kEndsDrag_mN = 1.0, kSetBack = 0.05, kKnotEfficiency = 0.55;

void wait(KnotInHand& knot, int ticks) {
    for (int i = 0; i < ticks; ++i) knot.step();
}
void draw(KnotInHand& knot, double mN, int ticks = kTicksPerSecond) {
    knot.pull(mN);
    wait(knot, ticks);
}
double held(int turns) { return kEndsDrag_mN * std::exp(kFriction * 2.0 * kPi * turns); }

// 3-1-1 tied square at a tension.
KnotInHand square_knot(double mN, const KnotLimits& limits = {}) {
    KnotInHand knot(limits);
    knot.lay({3, true});
    draw(knot, mN);
    knot.lay({1, false});
    draw(knot, mN);
    knot.lay({1, true});
    draw(knot, mN);
    knot.pull(0.0);
    wait(knot, kTicksPerSecond);
    return knot;
}

}  // namespace

TEST_CASE("knot: a wrap holds as the capstan says", "[hand][handbook]") {
    // T9-01: µ 0.3, one turn 6.586, two 43.376. T9-07: two quarter turns, exp(0.3 π/2) = 1.602 each pair.
    CHECK_THAT(capstan_ratio(0.3, 2.0 * kPi), WithinAbs(6.586, 5e-4));
    CHECK_THAT(capstan_ratio(0.3, 4.0 * kPi), WithinAbs(43.376, 5e-4));
    CHECK_THAT(capstan_ratio(0.3, kPi / 2.0), WithinAbs(1.602, 5e-4));
    CHECK_THAT(capstan_ratio(0.1, kPi), WithinAbs(1.369, 5e-4));
}

TEST_CASE("knot: tension follows the hand at a hand's pace, both ways", "[hand]") {
    KnotInHand knot(KnotLimits{});
    knot.lay({2, true});
    knot.pull(20.0);
    double last = 0.0;
    for (int i = 0; i < kTicksPerSecond; ++i) {
        knot.step();
        CHECK(knot.loop_mN() - last <= 0.5 + 1e-12);
        CHECK(knot.loop_mN() >= last);
        last = knot.loop_mN();
    }
    CHECK(knot.loop_mN() == Approx(20.0));
    CHECK(knot.hand_mN() == Approx(20.0));
    draw(knot, 12.0);
    CHECK(knot.loop_mN() == Approx(12.0));
}

TEST_CASE("knot: let go, a single throw gives back what its friction does not hold", "[hand]") {
    for (const int turns : {1, 2, 3, 4}) {
        KnotInHand knot(KnotLimits{});
        CHECK(knot.kind() == KnotKind::none);
        knot.lay({turns, true});
        CHECK(knot.kind() == KnotKind::one_throw);
        draw(knot, 30.0);
        draw(knot, 0.0, 3 * kTicksPerSecond);
        INFO(turns << " turns");
        CHECK_THAT(knot.held_mN(), WithinRel(held(turns), 1e-12));
        CHECK_THAT(knot.loop_mN(), WithinAbs(std::min(30.0, held(turns)), 1e-3));
    }
    // Three turns hold a usual suture, one does not.
    CHECK(held(3) > 15.0);
    CHECK(held(1) < 5.0);
    // No throw holds nothing.
    KnotInHand bare(KnotLimits{});
    draw(bare, 30.0);
    CHECK(bare.loop_mN() == Approx(30.0));
    draw(bare, 0.0, 1);
    CHECK(bare.loop_mN() == 0.0);
}

TEST_CASE("knot: throws laid the same way slide, a reversed one locks", "[hand]") {
    KnotInHand granny(KnotLimits{});
    granny.lay({1, true});
    granny.lay({1, true});
    CHECK(granny.kind() == KnotKind::sliding);
    CHECK_FALSE(granny.square());
    draw(granny, 25.0);
    CHECK(granny.loop_mN() == Approx(25.0));
    draw(granny, 0.0, 3 * kTicksPerSecond);
    CHECK_THAT(granny.loop_mN(), WithinAbs(held(2), 1e-3));
    draw(granny, 18.0);  // still set by drawing
    CHECK(granny.loop_mN() == Approx(18.0));
    granny.lay({1, false});
    CHECK(granny.locked());
    CHECK_FALSE(granny.square());
    CHECK_THAT(granny.loop_mN(), WithinRel(18.0 * (1.0 - kSetBack), 1e-12));
    granny.lay({1, false});
    CHECK(granny.locked());
    CHECK(granny.throws_text() == "1-1-1-1");
}

TEST_CASE("knot: locked, the loop keeps its tension whatever the hand does below the limits", "[hand]") {
    KnotInHand knot(KnotLimits{});
    knot.lay({3, true});
    draw(knot, 15.0);
    knot.lay({1, false});
    const double kept = knot.loop_mN();
    CHECK_THAT(kept, WithinRel(15.0 * (1.0 - kSetBack), 1e-12));
    for (const double mN : {0.0, 40.0, 5.0, 90.0, 0.0}) {
        draw(knot, mN);
        CHECK(knot.loop_mN() == kept);
    }
    knot.lay({1, true});
    CHECK(knot.loop_mN() == kept);
    CHECK(knot.square());
    CHECK(knot.throws_text() == "3-1-1");
    CHECK(knot.throws().size() == 3);
    for (int i = 0; i < 20; ++i) knot.lay({1, i % 2 == 0});
    CHECK(knot.throws().size() == 8);
}

TEST_CASE("knot: waiting before the locking throw costs what the first throw cannot hold", "[hand]") {
    KnotInHand quick(KnotLimits{}), slow(KnotLimits{});
    for (KnotInHand* knot : {&quick, &slow}) {
        knot->lay({2, true});
        draw(*knot, 20.0);
    }
    quick.lay({1, false});
    draw(slow, 0.0, 2 * kTicksPerSecond);
    slow.lay({1, false});
    CHECK(quick.loop_mN() > 18.0);
    CHECK(slow.loop_mN() < 8.0);
}

TEST_CASE("knot: the thread breaks straight at its load, knotted at a part of it", "[hand][published]") {
    // T1-14 (inferred from 3-0 nylon): a knot keeps at most 0.61.
    CHECK(kKnotEfficiency <= 0.61);
    CHECK(kKnotEfficiency > 0.4);
    const KnotLimits limits{190.0, 1e6};
    KnotInHand straight(limits);
    draw(straight, 185.0, 3 * kTicksPerSecond);
    CHECK_FALSE(straight.broken());
    CHECK(straight.loop_mN() == Approx(185.0));
    draw(straight, 195.0);
    CHECK(straight.broken());
    CHECK(straight.loop_mN() == 0.0);

    KnotInHand knotted(limits);
    knotted.lay({3, true});
    draw(knotted, kKnotEfficiency * 190.0 - 1.0, 2 * kTicksPerSecond);
    CHECK_FALSE(knotted.broken());
    draw(knotted, kKnotEfficiency * 190.0 + 1.0);
    CHECK(knotted.broken());
    knotted.lay({1, false});
    CHECK(knotted.throws().size() == 1);
    // A locked knot can still be torn by its ends.
    KnotInHand locked = square_knot(15.0, limits);
    draw(locked, 150.0, 2 * kTicksPerSecond);
    CHECK(locked.broken());
}

TEST_CASE("knot: tissue holds in proportion to bite, depth and stiffness", "[hand][published]") {
    // T2-11: 14.2 g/mm at the centre, about 30 at 5 mm; so 20 … 31 g/mm at the wound, × 9.81 mN.
    const double whole = cut_limit_mN(1.0, 1.0, 1000.0);
    CHECK(whole > 20.0 * 9.81);
    CHECK(whole < 31.0 * 9.81);
    CHECK_THAT(cut_limit_mN(0.5, 1.0, 1000.0), WithinRel(whole / 2.0, 1e-12));
    CHECK_THAT(cut_limit_mN(1.0, 0.5, 1000.0), WithinRel(whole / 2.0, 1e-12));
    CHECK_THAT(cut_limit_mN(1.0, 1.0, 500.0), WithinRel(whole / 2.0, 1e-12));
    CHECK(cut_limit_mN(-1.0, 2.0, 1000.0) == 0.0);
    // A good bite laughs at 40 mN; a short, shallow one gives where a hand gets to.
    CHECK(cut_limit_mN(1.1, 0.92, 1000.0) > 3.0 * 40.0);
    CHECK(cut_limit_mN(0.3, 0.5, 1000.0) < 60.0);
}

TEST_CASE("knot: above its limit the thread cuts the bite, faster the higher, and at last out of it", "[hand]") {
    const auto pulled = [](double bite, double depth, double mN, int ticks) {
        KnotInHand knot(KnotLimits{190.0, cut_limit_mN(bite, depth, 1000.0), bite});
        knot.lay({3, true});
        draw(knot, mN, ticks);
        return knot;
    };
    CHECK(pulled(1.1, 0.92, 40.0, 30 * kTicksPerSecond).cut_mm() == 0.0);
    const double little = pulled(0.3, 0.5, 45.0, kTicksPerSecond).cut_mm(),
                 more = pulled(0.3, 0.5, 50.0, kTicksPerSecond).cut_mm();
    CHECK(little > 0.0);
    CHECK(more > little);
    const KnotInHand torn = pulled(0.3, 0.5, 60.0, 5 * kTicksPerSecond);
    CHECK(torn.torn_out());
    CHECK(torn.cut_mm() == Approx(0.3));
    CHECK(torn.loop_mN() == 0.0);
    CHECK_FALSE(torn.broken());
    // Locked above the limit it cuts until the loop has slackened enough, and stops.
    KnotInHand locked(KnotLimits{190.0, 60.0, 1.1});
    locked.lay({3, true});
    draw(locked, 80.0, 170);
    locked.lay({1, false});
    draw(locked, 0.0, 20 * kTicksPerSecond);
    CHECK(locked.cut_mm() > 0.0);
    CHECK_FALSE(locked.torn_out());
    CHECK(locked.loop_mN() <= 60.0);
    CHECK(locked.loop_mN() > 40.0);
}
