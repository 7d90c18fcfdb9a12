#include "figure/double_angle.h"

#include <cmath>

#include <catch2/catch.hpp>

#include "scored.h"

namespace graftwright {
namespace {

constexpr double kDioptreRounding = 1e-9;  // of sums of a few dioptres

TEST_CASE("double angle: a steep axis stands at twice its angle, as long as its cylinder", "[figure][geometry]") {
    // Steep at 45°: the y axis; at 90°: to the left; lengths are cylinders, not half of them.
    const Point at_45 = double_angle_arrow({40.0, 0.0, 1.5}), at_90 = double_angle_arrow({40.0, -0.5, 0.0});
    CHECK(std::abs(at_45.x) < kDioptreRounding);
    CHECK(at_45.y == Approx(3.0));
    CHECK(at_90.x == Approx(-1.0));
    CHECK(cylinder_words(at_45) == "3.0 D @ 45°");
    CHECK(cylinder_words(at_90) == "1.0 D @ 90°");
    // An axis a hair below 180 is written as 0.
    CHECK(cylinder_words({2.0, -0.001}) == "2.0 D @ 0°");
}

TEST_CASE("double angle: ideal, shares and what is left over make the attempt", "[figure][geometry]") {
    const Scorecard& card = scored("second_cardinal_off").card;
    for (const SumOfShares sum : {SumOfShares::left_out, SumOfShares::drawn}) {
        const auto plot = double_angle(card, sum);
        REQUIRE(plot);
        CHECK(plot->arrows.size() == 16);
        CHECK(plot->arrows.front().bite == 1);
        REQUIRE(card.interactions);
        const Point left = double_angle_arrow(*card.interactions);
        CHECK(plot->left_over().x == Approx(left.x).margin(kDioptreRounding));
        CHECK(plot->left_over().y == Approx(left.y).margin(kDioptreRounding));
        CHECK(std::hypot(plot->attempt.x, plot->attempt.y) == Approx(card.attempt.keratometry->cylinder_D));
        double last_D = plot->full_D;  // all lie on the paper, largest first
        for (const DoubleAngle::Arrow& arrow : plot->arrows) {
            CHECK(std::hypot(arrow.tip.x, arrow.tip.y) == Approx(arrow.size_D));
            CHECK(arrow.size_D <= last_D);
            last_D = arrow.size_D;
        }
        CHECK(plot->full_D == Approx(DoubleAngle::kRings * plot->step_D));
        if (sum == SumOfShares::drawn)
            CHECK(std::hypot(plot->ideal->x + plot->sum.x, plot->ideal->y + plot->sum.y) <= plot->full_D);
    }
    CHECK_FALSE(double_angle(scored_anew("second_cardinal_off", 2).card, SumOfShares::drawn));
}

}  // namespace
}  // namespace graftwright
