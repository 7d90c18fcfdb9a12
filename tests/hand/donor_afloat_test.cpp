#include "hand/donor_afloat.h"

#include <cmath>
#include <limits>

#include <catch2/catch.hpp>

#include "drives.h"

using namespace graftwright;
using namespace graftwright::drives;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double kPi2 = 2.0 * kPi;
// donor_afloat.cpp: 0.1 mN·s/mm for each mm² of an 8 mm donor, and half the radius squared of that.
constexpr double kSlide_mN_s_per_mm = 0.1 * kPi * 16.0;
constexpr double kTurn_mN_mm_s = kSlide_mN_s_per_mm * 8.0;
constexpr double kPlay_mm = 0.25;
constexpr double kWall_mm = 0.012;  // Box2D's slop at a wall, twice, and the chords of the outline

void push_for(DonorAfloat& donor, Point at, Point force, int ticks) {
    for (int i = 0; i < ticks; ++i) {
        donor.push(at, force);
        donor.step();
    }
}

double turn_deg(const DonorAfloat& donor) { return deg_from_rad(donor.pose().turn); }

}  // namespace

TEST_CASE("afloat: points go to the donor's frame and back", "[hand]") {
    const DonorPose pose{0.1, -0.2, 0.3};
    const Point donor{2.0, 3.0};
    const Point field = pose.to_field(donor);
    CHECK_THAT(field.x, WithinAbs(0.1 + 2.0 * std::cos(0.3) - 3.0 * std::sin(0.3), 1e-12));
    CHECK_THAT(pose.to_donor(field).x, WithinAbs(donor.x, 1e-12));
    CHECK_THAT(pose.to_donor(field).y, WithinAbs(donor.y, 1e-12));
}

TEST_CASE("afloat: pushed by nothing it stays, and pushed it goes as viscosity says", "[hand][handbook]") {
    DonorAfloat still{AfloatShape{}, {0.02, -0.03, 0.1}};
    for (int i = 0; i < kTicksPerSecond; ++i) still.step();
    CHECK_THAT(still.pose().x, WithinAbs(0.02, 1e-7));
    CHECK_THAT(still.pose().turn, WithinAbs(0.1, 1e-7));

    // Creeping: x = F t / c, φ = M t / c_turn. Inertia costs a thousandth of the first tick.
    DonorAfloat slid{AfloatShape{}};
    push_for(slid, {0.0, 0.0}, {1.0, 0.0}, kTicksPerSecond);
    CHECK_THAT(slid.pose().x, WithinRel(1.0 / kSlide_mN_s_per_mm, 1e-3));
    CHECK_THAT(slid.pose().turn, WithinAbs(0.0, 1e-7));
    DonorAfloat turned{AfloatShape{}};
    for (int i = 0; i < kTicksPerSecond; ++i) {  // a couple of 2 mN·mm
        turned.push({0.0, 2.0}, {-0.5, 0.0});
        turned.push({0.0, -2.0}, {0.5, 0.0});
        turned.step();
    }
    CHECK_THAT(turned.pose().turn, WithinRel(2.0 / kTurn_mN_mm_s, 2e-3));
    // And it stops with the push.
    const double x = slid.pose().x;
    for (int i = 0; i < kTicksPerSecond; ++i) slid.step();
    CHECK_THAT(slid.pose().x, WithinAbs(x, 1e-4));
}

TEST_CASE("afloat: 5 mN off centre turn a donor that nobody holds by degrees, a held one hardly", "[hand]") {
    DonorAfloat loose{AfloatShape{}};
    push_for(loose, {2.0, 0.0}, {0.0, 5.0}, kTicksPerSecond);
    CHECK(turn_deg(loose) > 5.0);
    CHECK(turn_deg(loose) < 30.0);
    // Held at 6 o'clock, pushed anywhere along the edge in any direction.
    for (int i = 0; i < 12; ++i) {
        DonorAfloat held{AfloatShape{}};
        REQUIRE(held.hold({0.0, -3.6}));
        const double at = kPi2 * i / 12, toward = at + 1.1 * i;
        push_for(held, {3.9 * std::cos(at), 3.9 * std::sin(at)}, {5.0 * std::cos(toward), 5.0 * std::sin(toward)},
                 kTicksPerSecond);
        INFO("pushed at " << deg_from_rad(at));
        CHECK(std::abs(turn_deg(held)) < 0.3);
        CHECK_THAT(std::hypot(held.hold_point().x, held.hold_point().y + 3.6), WithinAbs(0.0, 0.02));
    }
}

TEST_CASE("afloat: the bed's outline stops it, round or oval", "[hand]") {
    const auto slid = [](const AfloatShape& shape, double toward_deg) {
        DonorAfloat donor{shape};
        const double a = rad_from_deg(toward_deg);
        push_for(donor, {0.0, 0.0}, {20.0 * std::cos(a), 20.0 * std::sin(a)}, kTicksPerSecond);
        return std::hypot(donor.pose().x, donor.pose().y);
    };
    AfloatShape shape;
    for (const double deg : {0.0, 37.0, 90.0, 200.0}) CHECK_THAT(slid(shape, deg), WithinAbs(kPlay_mm, kWall_mm));
    // A bed long by 0.4 mm toward 90°: a tenth more there, a tenth less across.
    shape.bed_ovality_mm = 0.4;
    shape.bed_ovality_axis_deg = 90.0;
    CHECK_THAT(slid(shape, 90.0), WithinAbs(kPlay_mm + 0.1, kWall_mm));
    CHECK_THAT(slid(shape, 0.0), WithinAbs(kPlay_mm - 0.1, kWall_mm));
    // A donor that long instead: the other way about. Its edge is beads; between two it dips 34 µm.
    shape.bed_ovality_mm = 0.0;
    shape.donor_ovality_mm = 0.4;
    shape.donor_ovality_axis_deg = 90.0;
    CHECK_THAT(slid(shape, 90.0), WithinAbs(kPlay_mm - 0.1, kWall_mm));
    CHECK_THAT(slid(shape, 0.0), WithinAbs(kPlay_mm + 0.1, kWall_mm));
}

TEST_CASE("afloat: the wall stops a donor that is tied or led by forceps as well", "[hand]") {
    DonorAfloat tied{AfloatShape{}};
    tied.tether(90.0, 90.0);
    push_for(tied, {0.0, 0.0}, {0.0, 20.0}, kTicksPerSecond);
    CHECK_THAT(tied.pose().y, WithinAbs(kPlay_mm, kWall_mm));
    DonorAfloat led{AfloatShape{}};
    REQUIRE(led.hold({0.0, -3.5}));
    led.move_hold({0.0, -6.0});
    for (int i = 0; i < kTicksPerSecond; ++i) led.step();
    CHECK_THAT(led.pose().y, WithinAbs(-kPlay_mm, 0.05));  // a hard pull squeezes a little into it
}

TEST_CASE("afloat: a tether pulls as the thread stretches and is slack when shorter", "[hand][handbook]") {
    AfloatShape shape;
    DonorAfloat donor{shape};
    const std::size_t twelve = donor.tether(90.0, 90.0);
    CHECK(donor.tethers() == 1);
    push_for(donor, {0.0, 0.0}, {0.0, -3.0}, 2 * kTicksPerSecond);
    CHECK_THAT(donor.pose().y, WithinAbs(-3.0 / (1000.0 * shape.thread_N_per_mm), 5e-4));  // F / k
    push_for(donor, {0.0, 0.0}, {0.0, 3.0}, kTicksPerSecond);
    CHECK(donor.pose().y > 0.15);  // toward the tether: to the wall
    donor.cut(twelve);
    CHECK(donor.tethers() == 0);
    push_for(donor, {0.0, 0.0}, {0.0, -3.0}, 2 * kTicksPerSecond);
    CHECK_THAT(donor.pose().y, WithinAbs(-kPlay_mm, kWall_mm));
    donor.cut(twelve);  // again, or one that never was: nothing
    donor.cut(17);
    CHECK(donor.tether(0.0, 0.0) == 1);  // numbers are not used twice
}

TEST_CASE("afloat: tied at 12 o'clock and not steadied, a bite at 6 turns it about the tether", "[hand]") {
    // A drive of the second cardinal: a second or two, a few mN outward, one aside.
    for (const double outward : {2.0, 3.0, 4.0}) {
        DonorAfloat loose{AfloatShape{}};
        loose.tether(90.0, 90.0);
        push_for(loose, {0.0, -3.4}, {1.0, -outward}, 3 * kTicksPerSecond / 2);
        INFO("outward " << outward);
        CHECK(turn_deg(loose) > 3.0);
        CHECK(turn_deg(loose) < 12.0);
        // The place by the tether stays; the far edge goes, and with it the mark at 6 o'clock.
        const Point near = loose.pose().to_field({0.0, 4.0}), far = loose.pose().to_field({0.0, -4.0});
        CHECK(std::hypot(near.x, near.y - 4.0) < 0.3 * std::hypot(far.x, far.y + 4.0));
        CHECK(deg_from_rad(std::atan2(far.y, far.x)) > -87.0);

        DonorAfloat steadied{AfloatShape{}};
        steadied.tether(90.0, 90.0);
        REQUIRE(steadied.hold({0.0, -3.0}));
        push_for(steadied, {0.0, -3.4}, {1.0, -outward}, 3 * kTicksPerSecond / 2);
        CHECK(std::abs(turn_deg(steadied)) < 0.3);
    }
}

TEST_CASE("afloat: each tied bite leaves it less to turn", "[hand]") {
    constexpr double kCardinals_deg[] = {90.0, 270.0, 0.0, 180.0};
    double last = 1e9;
    for (const int tied : {0, 1, 2, 3, 4}) {
        DonorAfloat donor{AfloatShape{}};
        for (int i = 0; i < tied; ++i) donor.tether(kCardinals_deg[i], kCardinals_deg[i]);
        push_for(donor, {3.0, 0.0}, {0.0, 2.0}, kTicksPerSecond);
        INFO(tied << " tied");
        UNSCOPED_INFO(tied << " tied: " << turn_deg(donor));
        CHECK(turn_deg(donor) < last + 1e-9);
        last = turn_deg(donor);
    }
    CHECK(last < 2.5);
}

TEST_CASE("afloat: forceps take hold of the donor only, and lead it", "[hand]") {
    DonorAfloat donor{AfloatShape{}};
    CHECK_FALSE(donor.hold({0.0, 4.2}));
    CHECK_FALSE(donor.held());
    REQUIRE(donor.hold({0.0, 3.9}));
    CHECK(donor.held());
    donor.move_hold({0.1, 3.8});
    for (int i = 0; i < kTicksPerSecond; ++i) donor.step();
    CHECK_THAT(donor.pose().x, WithinAbs(0.1, 1e-3));
    CHECK_THAT(donor.pose().y, WithinAbs(-0.1, 1e-3));
    CHECK_THAT(turn_deg(donor), WithinAbs(0.0, 0.05));
    CHECK_THAT(donor.hold_point().x, WithinAbs(0.1, 2e-3));
    donor.let_go();
    CHECK_FALSE(donor.held());
    donor.move_hold({5.0, 5.0});
    for (int i = 0; i < kTicksPerSecond; ++i) donor.step();
    CHECK_THAT(donor.pose().x, WithinAbs(0.1, 2e-3));
}

TEST_CASE("afloat: the same pushes make the same bits", "[hand][determinism]") {
    const auto run = [] {
        AfloatShape shape;
        shape.bed_ovality_mm = 0.2;
        shape.donor_ovality_mm = 0.1;
        DonorAfloat donor{shape, {0.01, 0.0, 0.02}};
        BitHash hash;
        for (int i = 0; i < 5 * kTicksPerSecond; ++i) {
            if (i == 100) donor.tether(90.0, 91.0);
            if (i == 300) donor.hold({0.0, -3.5});
            if (i == 500) donor.move_hold({0.1, -3.4});
            if (i == 700) donor.let_go();
            if (i == 800) donor.tether(270.0, 268.0);
            if (i == 1000) donor.cut(0);
            donor.push({3.0, 1.0}, {4.0 * std::sin(0.01 * i), 3.0 * std::cos(0.017 * i)});
            donor.step();
            hash.add({donor.pose().x, donor.pose().y});
            hash.add(donor.pose().turn);
        }
        return hash.value();
    };
    CHECK(run() == run());
}
