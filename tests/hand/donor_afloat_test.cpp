// The donor before it is anchored: it slides and turns when nobody holds it.
#include "hand/donor_afloat.h"

#include <catch2/catch.hpp>

#include "hand/section_drive.h"

namespace graftwright {
namespace {

// A push for a second at a point of the field.
void push_for_a_second(DonorAfloat& donor, Point at, Point force_mN) {
    for (int tick = 0; tick < kTicksPerSecond; ++tick) {
        donor.push(at, force_mN);
        donor.step();
    }
}

TEST_CASE("donor: unheld it turns under an off-centre push, held it hardly does", "[hand]") {
    DonorAfloat loose{AfloatShape{}}, held{AfloatShape{}};
    REQUIRE(held.hold({0.0, -3.0}));
    push_for_a_second(loose, {0.0, -3.5}, {5.0, 0.0});
    push_for_a_second(held, {0.0, -3.5}, {5.0, 0.0});
    CHECK(std::abs(deg_from_rad(loose.pose().turn)) > 2.0);
    CHECK(std::abs(deg_from_rad(held.pose().turn)) < 0.3);
    CHECK(std::hypot(held.pose().x, held.pose().y) < 0.05);
}

TEST_CASE("donor: tied at 12 o'clock, an unsteadied push at 6 swings it about the thread", "[hand]") {
    DonorAfloat donor{AfloatShape{}};
    const std::size_t first = donor.tether(90.0, 90.0);
    push_for_a_second(donor, {0.0, -3.5}, {2.0, -3.0});
    CHECK(std::abs(deg_from_rad(donor.pose().turn)) > 0.5);
    CHECK(donor.pose().x > 0.02);
    // Its own 12-o'clock place stays near the host's.
    const Point tied = donor.pose().to_field({0.0, 3.8});
    CHECK(std::abs(tied.x) < std::abs(donor.pose().to_field({0.0, -3.8}).x));
    CHECK(donor.tethers() == 1);
    donor.cut(first);
    CHECK(donor.tethers() == 0);
}

TEST_CASE("donor: four cardinals anchor it", "[hand]") {
    DonorAfloat donor{AfloatShape{}};
    DonorAfloat loose{AfloatShape{}};
    for (const double deg : {90.0, 270.0, 0.0, 180.0}) donor.tether(deg, deg);
    push_for_a_second(donor, {0.0, -3.5}, {5.0, 0.0});
    push_for_a_second(loose, {0.0, -3.5}, {5.0, 0.0});
    CHECK(std::abs(donor.pose().turn) < std::abs(loose.pose().turn) / 3.0);
    CHECK(std::hypot(donor.pose().x, donor.pose().y) < 0.05);
}

TEST_CASE("donor: it stays in its bed whatever pushes, and frames map onto each other", "[hand]") {
    AfloatShape oval;
    oval.bed_ovality_mm = 0.4;
    oval.donor_ovality_mm = 0.3;
    oval.donor_ovality_axis_deg = 40.0;
    for (const AfloatShape& shape : {AfloatShape{}, oval}) {
        DonorAfloat donor(shape);
        for (int tick = 0; tick < 2000; ++tick) {
            donor.push({3.0, 1.0}, {1e6, -1e5});
            donor.step();
            REQUIRE(std::isfinite(donor.pose().x));
            REQUIRE(std::hypot(donor.pose().x, donor.pose().y) < 1.0);
        }
        const DonorPose pose = donor.pose();
        const Point there = pose.to_donor(pose.to_field({1.2, -0.7}));
        CHECK(there.x == Approx(1.2));
        CHECK(there.y == Approx(-0.7));
    }
}

TEST_CASE("donor: forceps take only what lies under them, carry it, and let it go", "[hand]") {
    DonorAfloat donor{AfloatShape{}};
    CHECK_FALSE(donor.hold({6.0, 0.0}));
    REQUIRE(donor.hold({2.0, 0.0}));
    donor.move_hold({2.1, 0.0});
    for (int tick = 0; tick < 480; ++tick) donor.step();
    CHECK(donor.pose().x == Approx(0.1).margin(0.03));
    donor.let_go();
    CHECK_FALSE(donor.held());
}

TEST_CASE("donor: the same pushes give the same bits", "[hand]") {
    const auto play = [] {
        DonorAfloat donor{AfloatShape{}};
        donor.tether(90.0, 91.0);
        push_for_a_second(donor, {1.0, -3.0}, {3.0, -1.0});
        donor.hold({0.0, -3.0});
        push_for_a_second(donor, {-1.0, -3.0}, {-3.0, -1.0});
        return donor.pose();
    };
    const DonorPose one = play(), other = play();
    CHECK(one.x == other.x);
    CHECK(one.y == other.y);
    CHECK(one.turn == other.turn);
}

}  // namespace
}  // namespace graftwright
