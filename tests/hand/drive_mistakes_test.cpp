// Drives that go wrong: pushed, too steep, too flat, backed out; and the bites that come of them.
#include <cmath>

#include <catch2/catch.hpp>

#include "drives.h"
#include "hand/section_drive.h"

using namespace graftwright;
using namespace graftwright::drives;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double kPerforation_uJ = 30.0;  // section_drive.cpp's price of a way through the back

// A needle 25° into the donor, entered at 38° and 1.1 mm.
SectionDrive half_way(const SectionTissue& tissue = {}) {
    const Needle needle;
    SectionDrive drive(needle, tissue);
    drive.place(before(needle, {-1.2, 0.0}, 38.0, 1.0));
    turn(drive, 20.0);
    events(drive);
    return drive;
}

}  // namespace

TEST_CASE("mistakes: pushed instead of turned, the needle drags the tissue and harms it", "[hand]") {
    SectionDrive turned = half_way(), pushed = half_way();
    const double before_uJ = pushed.trauma_uJ();
    CHECK(before_uJ < 0.01);
    turn(turned, 5.0);
    CHECK(turned.trauma_uJ() < 0.01);
    // The same way for the tip, 0.2 mm, by moving the holder outward within a tenth of a second.
    HandTick hand;
    hand.shift_mm = {0.2 / 24, 0.0};
    double push = 0.0, lead = 0.0, across = 0.0;
    for (int i = 0; i < 24; ++i) {
        pushed.step(hand);
        push = std::max(push, pushed.donor_push_mN());
        across = std::max(across, pushed.across_mN());
        lead = std::max(lead, std::hypot(pushed.hand_pose().centre.x - pushed.pose().centre.x,
                                         pushed.hand_pose().centre.y - pushed.pose().centre.y));
    }
    CHECK(pushed.trauma_uJ() > 1.0);
    CHECK(push > 10.0);  // felt by a donor that nobody holds
    CHECK(push < 31.0);  // no more than the grip gives
    CHECK(across > 20.0);
    CHECK(lead > 0.02);  // the needle comes after the hand
    CHECK(lead <= 0.2501);
    // What the hand gives is what the tissue takes.
    CHECK_THAT(pushed.grip_force_mN().x, WithinAbs(pushed.tissue_force_mN().x, 0.5));
    CHECK_THAT(pushed.grip_force_mN().y, WithinAbs(pushed.tissue_force_mN().y, 0.5));
}

TEST_CASE("mistakes: the harder the push, the more the harm", "[hand]") {
    double last = 0.0;
    for (const double mm : {0.02, 0.05, 0.1, 0.2}) {
        SectionDrive drive = half_way();
        shift(drive, {0.0, -mm}, 60);
        INFO("pushed " << mm);
        CHECK(drive.trauma_uJ() > last);
        last = drive.trauma_uJ();
    }
    // Softer tissue drags less.
    SectionTissue soft;
    soft.softness = 3.0;
    SectionDrive firm = half_way(), yielding = half_way(soft);
    shift(firm, {0.0, -0.05}, 60);
    shift(yielding, {0.0, -0.05}, 60);
    CHECK(yielding.across_mN() < firm.across_mN());
}

TEST_CASE("mistakes: a lip let go over the needle drags on it", "[hand]") {
    const Needle needle;
    SectionDrive drive(needle, SectionTissue{});
    lift(drive, 20.0);
    drive.place(before(needle, drive.everted({-1.2, 0.0}), 24.0, 1.0));
    turn(drive, 20.0);
    CHECK(events(drive) == "entered_front");
    CHECK(drive.trauma_uJ() < 0.01);
    lift(drive, 5.0);
    CHECK(drive.trauma_uJ() > 0.5);
}

TEST_CASE("mistakes: too steep goes through the back, and backing out has its price", "[hand]") {
    const Needle needle;
    SectionDrive drive(needle, SectionTissue{});
    drive.place(before(needle, {-1.3, 0.0}, 60.0, 1.0));
    turn(drive, 20.0);
    CHECK(events(drive) == "entered_front through_back");
    CHECK(drive.in_chamber());
    CHECK(drive.tip_depth_um() == 0.0);
    CHECK(drive.donor_pass().through_back);
    CHECK_FALSE(drive.donor_pass().complete);
    CHECK_THAT(drive.trauma_uJ(), WithinAbs(kPerforation_uJ, 0.1));
    turn(drive, -8.0);
    CHECK(events(drive) == "back_in_tissue");
    CHECK(drive.in_donor());
    CHECK(drive.donor_pass().through_back);  // the hole stays in this bite
    turn(drive, -12.0);
    CHECK(events(drive) == "withdrawn");
    CHECK_FALSE(drive.donor_pass().through_back);  // no bite any more; its price is kept
    CHECK_THAT(drive.trauma_uJ(), WithinAbs(kPerforation_uJ, 0.2));
}

TEST_CASE("mistakes: round the back edges a bite is through and through, as deep as the wall", "[hand]") {
    const Needle needle;
    SectionTissue tissue;
    SectionDrive drive(needle, tissue);
    drive.place(before(needle, {-1.2, 0.0}, 47.0, 1.0));
    turn(drive, 100.0);
    CHECK(events(drive) == "entered_front through_back back_in_tissue left_face entered_face left_front");
    CHECK(drive.donor_pass().complete);
    CHECK(drive.host_pass().complete);
    CHECK(drive.donor_pass().through_back);
    CHECK(drive.host_pass().through_back);
    CHECK(drive.donor_pass().depth_um == Approx(550.0));
    CHECK(drive.host_pass().depth_um == Approx(620.0));
}

TEST_CASE("mistakes: too flat comes out of the front short of the wound and is no bite", "[hand]") {
    const Needle needle;
    SectionDrive drive(needle, SectionTissue{});
    // 10° down comes up again after 2R sin 10° = 0.88 mm; the wound is 1.4 mm away.
    drive.place(before(needle, {-1.5, 0.0}, 10.0, 1.0));
    turn(drive, 25.0);
    CHECK(events(drive) == "entered_front withdrawn");
    CHECK_FALSE(drive.donor_pass().complete);
    CHECK_FALSE(drive.in_donor());
    CHECK(drive.pose().at(needle).x < -0.4);
}

TEST_CASE("mistakes: a host drive aimed too low goes into the chamber, backed out of it is withdrawn", "[hand]") {
    const Needle needle;
    SectionDrive drive(needle, SectionTissue{});
    drive.place(before(needle, {0.0, -0.55}, 20.0, 0.5));
    turn(drive, 8.0);
    CHECK(events(drive) == "entered_face through_back");
    CHECK(drive.host_pass().through_back);
    turn(drive, -8.0);
    CHECK(events(drive) == "back_in_tissue withdrawn");
    CHECK_FALSE(drive.host_pass().complete);
}

TEST_CASE("mistakes: a new stroke forgets a pass begun and keeps one that is complete", "[hand]") {
    const Needle needle;
    SectionDrive drive(needle, SectionTissue{});
    drive.place(before(needle, {-1.2, 0.0}, 38.0, 1.0));
    turn(drive, 10.0);
    CHECK(drive.donor_pass().bite_mm > 1.0);
    drive.place(before(needle, {-1.1, 0.0}, 40.0, 1.0));
    CHECK(drive.donor_pass().bite_mm == 0.0);
    turn(drive, 27.0);
    CHECK(events(drive) == "entered_front entered_front left_face");
    const PassResult first = drive.donor_pass();
    REQUIRE(first.complete);
    // Over the donor again, but not yet in it: kept. In it: a new pass.
    drive.place(before(needle, {-1.4, 0.0}, 35.0, 2.0));
    turn(drive, 1.0);
    CHECK(drive.donor_pass().depth_um == first.depth_um);
    turn(drive, 2.0);
    CHECK(events(drive) == "entered_front");
    CHECK_FALSE(drive.donor_pass().complete);
    CHECK_THAT(drive.donor_pass().bite_mm, WithinAbs(1.3, 1e-3));
}

TEST_CASE("mistakes: grasped anew where it is, a needle in tissue goes on with its pass", "[hand]") {
    SectionDrive drive = half_way();
    shift(drive, {0.0, -0.05}, 10);
    drive.place(drive.pose());
    CHECK(drive.in_donor());
    CHECK(drive.hand_pose().centre == drive.pose().centre);  // the hand lets the needle's pull go
    turn(drive, 10.0);
    CHECK(events(drive) == "left_face");
    CHECK(drive.donor_pass().complete);
    CHECK_THAT(drive.donor_pass().bite_mm, WithinAbs(1.1, 1e-3));
}

TEST_CASE("mistakes: what a pass says stays within what an attempt may say", "[hand]") {
    const Needle needle;
    // Entered 0.05 mm from the edge, straight down through the corner.
    SectionTissue tissue;
    SectionDrive shortest(needle, tissue);
    shortest.place(before(needle, {-0.15, 0.0}, 70.0, 1.0));
    turn(shortest, 6.0);
    REQUIRE(shortest.donor_pass().complete);
    CHECK(shortest.donor_pass().bite_mm == 0.2);
    // A thick donor and a flat, long way.
    tissue.donor_thickness_mm = 1.2;
    SectionDrive longest(needle, tissue);
    longest.place(before(needle, {-3.4, 0.0}, 41.0, 1.0));
    turn(longest, 90.0);
    REQUIRE(longest.donor_pass().complete);
    CHECK(longest.donor_pass().bite_mm == 3.0);
    CHECK(longest.donor_pass().surface_deg <= 90.0);
    CHECK(longest.donor_pass().depth_um >= 1.0);
}
