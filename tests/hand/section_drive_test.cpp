#include "hand/section_drive.h"

#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

#include "../scenes/expert_drive.h"
#include "drives.h"

using namespace graftwright;
using namespace graftwright::drives;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double kUm = 1e-3;             // mm
constexpr double kCircle_um = 1.0;       // the design's tolerance of an undisturbed arc
constexpr double kClosedForm_um = 10.0;  // the design's; what is reached is about 1

// Depth at x of a circle that passes (0, 0) heading `pitch` down: y = √(R² − …) written out.
double circle_depth(double radius, double pitch_deg, double x) {
    const double p = rad_from_deg(pitch_deg);
    const double cx = radius * std::sin(p), cy = radius * std::cos(p);
    return std::sqrt(radius * radius - (x - cx) * (x - cx)) - cy;
}

// Flattened depth at the wound face of a circle through the lip's front at `bite` from the edge,
// heading `pitch` down in space: the face is the ray from the lip's centre at the eversion angle, and
// the circle meets it where |q ray − m| = R. Written from the geometry, not from lip.h's functions.
double everted_depth(const SectionTissue& tissue, double radius, double eversion_deg, double bite, double pitch_deg) {
    const double e = rad_from_deg(eversion_deg), p = rad_from_deg(pitch_deg);
    const double rho = kLipLength_mm / e, front = rho - tissue.donor_thickness_mm;
    const double phi = (kLipLength_mm - bite) / rho;
    // From the lip's centre: the entry, the needle's centre, the face's direction.
    const double mx = front * std::sin(phi) + radius * std::sin(p), my = -front * std::cos(phi) + radius * std::cos(p);
    const double fx = std::sin(e), fy = -std::cos(e);
    const double along = mx * fx + my * fy;
    const double q = along + std::sqrt(along * along - (mx * mx + my * my) + radius * radius);
    return q - front;
}

double deepest(const std::vector<Point>& track) {
    double depth = 0.0;
    for (const Point& p : track) depth = std::max(depth, -p.y);
    return depth;
}

}  // namespace

TEST_CASE("drive: turned by the wrist alone, the needle keeps to its circle through all tissue", "[hand][handbook]") {
    const Needle needle;
    const double deg_per_tick = GENERATE(0.1, 0.25, 0.5);  // 24, 60, 120 degrees a second
    const double pitch = GENERATE(60.0, 38.0);
    SectionTissue tissue;
    tissue.host_reach_mm = 2.0;
    SectionDrive drive(needle, tissue);
    drive.place(before(needle, {-1.2, 0.0}, pitch, 3.0));
    NeedlePose hand = drive.pose();
    double worst = 0.0, most_push = 0.0;
    const int ticks = static_cast<int>(120.0 / deg_per_tick);
    for (int i = 0; i < ticks; ++i) {
        HandTick tick;
        tick.turn_deg = deg_per_tick;
        drive.step(tick);
        hand.tip_rad += rad_from_deg(deg_per_tick);
        const Point is = drive.pose().at(needle), should = hand.at(needle);
        worst = std::max(worst, std::hypot(is.x - should.x, is.y - should.y));
        most_push = std::max(most_push, drive.donor_push_mN());
    }
    INFO("pitch " << pitch << ", " << deg_per_tick << " degrees a tick");
    CHECK(worst < kCircle_um * kUm);
    CHECK(most_push > 1.0);  // the tissue did drag
    CHECK(most_push < 6.0);
    // 38° passes donor, wound and host; 60° goes through the back, which a turn alone does no other harm.
    const double perforations = pitch > 50.0 ? 1.0 : 0.0;
    CHECK(drive.donor_pass().through_back == (pitch > 50.0));
    CHECK_THAT(drive.trauma_uJ(), WithinAbs(30.0 * perforations, 0.05));
}

TEST_CASE("drive: a plain arc over a chord of 2 mm goes only 0.2 mm deep", "[hand][handbook]") {
    // T7-07: R 2.55, b 2.0: d = R − √(R² − 1) = 0.204, entry at asin(b/2R) = 23.1° to the surface.
    const Needle needle;
    SectionDrive drive(needle, SectionTissue{});
    const double radius = needle.radius_mm(), entry_deg = deg_from_rad(std::asin(1.0 / radius));
    CHECK_THAT(entry_deg, WithinAbs(23.1, 0.05));
    drive.place(before(needle, {-1.05, 0.0}, entry_deg, 1.0));
    turn(drive, 2.0 * entry_deg + 2.0);
    CHECK(events(drive) == "entered_front left_face entered_face left_front");
    const PassResult donor = drive.donor_pass(), host = drive.host_pass();
    REQUIRE(donor.complete);
    REQUIRE(host.complete);
    CHECK_THAT(donor.bite_mm, WithinAbs(0.95, kCircle_um * kUm));
    CHECK_THAT(host.bite_mm, WithinAbs(0.95, 2.0 * kCircle_um * kUm));
    CHECK_THAT(donor.surface_deg, WithinAbs(entry_deg, 0.1));
    CHECK_THAT(host.surface_deg, WithinAbs(entry_deg, 0.1));
    const double depth = radius - std::sqrt(radius * radius - 1.0);
    CHECK_THAT(depth, WithinAbs(0.204, 1e-3));
    const double reached = std::max(deepest(drive.track(BiteSide::donor)), deepest(drive.track(BiteSide::host)));
    CHECK_THAT(reached, WithinAbs(depth, 1.0 * kUm));
}

TEST_CASE("drive: a steep entry leaves the flat donor's face half a millimetre deep", "[hand][handbook]") {
    const Needle needle;
    SectionDrive drive(needle, SectionTissue{});
    drive.place(before(needle, {-1.2, 0.0}, 38.0, 1.0));
    turn(drive, 29.0);
    REQUIRE(events(drive) == "entered_front left_face");
    const double depth = circle_depth(needle.radius_mm(), 38.0, 1.1);
    CHECK_THAT(depth, WithinAbs(0.50, 0.01));
    CHECK_THAT(drive.donor_pass().depth_um, WithinAbs(1000.0 * depth, kCircle_um));
    CHECK_THAT(drive.donor_pass().bite_mm, WithinAbs(1.1, kCircle_um * kUm));
    CHECK_THAT(drive.donor_pass().surface_deg, WithinAbs(38.0, 0.1));
    // The track in between lies on the circle.
    const std::vector<Point>& track = drive.track(BiteSide::donor);
    REQUIRE(track.size() > 50);
    for (const Point& p : track) {
        CHECK_THAT(-p.y, WithinAbs(circle_depth(needle.radius_mm(), 38.0, p.x + 1.2), kCircle_um * kUm));
    }
    CHECK(track.front().y == Approx(0.0).margin(1e-6));
    CHECK(track.back().x == Approx(-0.1).margin(1e-6));
}

TEST_CASE("drive: an everted lip lets the same needle deeper, as the closed form says", "[hand][handbook]") {
    const Needle needle;
    const SectionTissue tissue;
    const double eversion = GENERATE(10.0, 20.0, 30.0, 40.0);
    const double flat_depth = circle_depth(needle.radius_mm(), 25.0, 1.1);
    const auto driven = [&](double pitch_deg) {
        SectionDrive drive(needle, tissue);
        lift(drive, eversion);
        events(drive);
        const Point entry = drive.everted({-1.2, 0.0});
        drive.place(before(needle, entry, pitch_deg, 1.0));
        turn(drive, 30.0);
        return drive.donor_pass();
    };
    // A pitch in space that stays inside the wall at each eversion.
    const double pitch = 38.0 - 0.72 * eversion;
    const PassResult pass = driven(pitch);
    INFO("eversion " << eversion);
    REQUIRE(pass.complete);
    const double depth = everted_depth(tissue, needle.radius_mm(), eversion, 1.1, pitch);
    CHECK_THAT(pass.depth_um, WithinAbs(1000.0 * depth, kClosedForm_um));
    CHECK_THAT(pass.depth_um, WithinAbs(1000.0 * depth, 1.5 * kCircle_um));
    CHECK_THAT(pass.bite_mm, WithinAbs(1.1, 1.5 * kCircle_um * kUm));
    // Deeper than the flat lip at the same pitch in space, and at the same angle to the surface.
    CHECK(depth > circle_depth(needle.radius_mm(), pitch, 1.1) + 0.05);
    CHECK(depth > circle_depth(needle.radius_mm(), pass.surface_deg, 1.1) + 0.02);
    // The flattest entry that goes in at all gains most.
    if (eversion <= 20.0) {
        const PassResult at25 = driven(25.0);
        REQUIRE(at25.complete);
        CHECK(at25.depth_um > 1000.0 * flat_depth + 50.0);
    }
}

TEST_CASE("drive: an expert makes 1.1/1.1 mm bites as deep as they should be, and harms little", "[hand]") {
    const Needle needle;
    SectionTissue tissue;
    tissue.rim_thickness_mm = GENERATE(0.62, 0.75);
    tissue.gap_mm = GENERATE(0.1, 0.2, 0.03);
    scenes::ExpertAim aim;
    aim.eversion_deg = GENERATE(0.0, 20.0, 35.0);
    const scenes::ExpertBite bite = scenes::expert_bite(needle, tissue, aim);
    SectionDrive drive(needle, tissue);
    scenes::play(drive, bite.donor);
    CHECK(events(drive) == "entered_front left_face");
    scenes::play(drive, bite.host);
    CHECK(events(drive) == "entered_face left_front");
    const PassResult donor = drive.donor_pass(), host = drive.host_pass();
    INFO("rim " << tissue.rim_thickness_mm << ", gap " << tissue.gap_mm << ", eversion " << aim.eversion_deg);
    REQUIRE(donor.complete);
    REQUIRE(host.complete);
    CHECK_FALSE(donor.through_back);
    CHECK_FALSE(host.through_back);
    for (const double fraction :
         {donor.depth_um / 1000.0 / tissue.donor_thickness_mm, host.depth_um / 1000.0 / tissue.rim_thickness_mm}) {
        CHECK(fraction >= 0.88);
        CHECK(fraction <= 0.95);
    }
    CHECK_THAT(donor.bite_mm, WithinAbs(1.1, 0.05));
    CHECK_THAT(host.bite_mm, WithinAbs(1.1, 0.05));
    CHECK(drive.trauma_uJ() < 0.1);
    // Neither side's path dips below what it may on the way.
    CHECK(deepest(drive.track(BiteSide::donor)) < 0.97 * tissue.donor_thickness_mm);
    CHECK(deepest(drive.track(BiteSide::host)) < 0.97 * tissue.rim_thickness_mm);
}

TEST_CASE("drive: without grasping anew one deep circle makes the host's bite far too long", "[hand]") {
    const Needle needle;
    SectionTissue tissue;
    SectionDrive drive(needle, tissue);
    drive.place(before(needle, {-1.2, 0.0}, 38.0, 1.0));
    turn(drive, 80.0);
    CHECK(events(drive) == "entered_front left_face entered_face left_front");
    // Back at the surface after the circle's chord 2R sin 38° from the entry.
    CHECK_THAT(drive.host_pass().bite_mm,
               WithinAbs(2.0 * needle.radius_mm() * std::sin(rad_from_deg(38.0)) - 1.2, 2.0 * kCircle_um * kUm));
    CHECK(drive.host_pass().bite_mm > 1.8);
}

TEST_CASE("drive: turned back the needle retraces its way, and what it had done is undone", "[hand]") {
    const Needle needle;
    SectionDrive drive(needle, SectionTissue{});
    drive.place(before(needle, {-1.2, 0.0}, 38.0, 2.0));
    const NeedlePose start = drive.pose();
    turn(drive, 79.0);
    REQUIRE(events(drive) == "entered_front left_face entered_face left_front");
    const std::vector<Point> donor_track = drive.track(BiteSide::donor);
    turn(drive, -3.0);  // back under the host's front: that pass is open again, without an event
    CHECK(drive.in_host());
    CHECK_FALSE(drive.host_pass().complete);
    CHECK(drive.donor_pass().complete);
    CHECK(events(drive).empty());
    turn(drive, 3.0);
    CHECK(events(drive) == "left_front");
    turn(drive, -79.0);
    CHECK(events(drive) == "withdrawn withdrawn");  // out of the host, out of the donor
    CHECK_FALSE(drive.donor_pass().complete);
    CHECK_FALSE(drive.host_pass().complete);
    CHECK(drive.donor_pass().bite_mm == 0.0);
    const NeedlePose end = drive.pose();
    CHECK_THAT(end.centre.x, WithinAbs(start.centre.x, kCircle_um * kUm));
    CHECK_THAT(end.centre.y, WithinAbs(start.centre.y, kCircle_um * kUm));
    CHECK_THAT(end.tip_rad, WithinAbs(start.tip_rad, 1e-3));
    CHECK(drive.trauma_uJ() < 0.05);
    // And forward again, the same bite.
    turn(drive, 40.0);
    CHECK(events(drive) == "entered_front left_face entered_face");
    CHECK_THAT(drive.track(BiteSide::donor).back().y, WithinAbs(donor_track.back().y, kCircle_um * kUm));
}

TEST_CASE("drive: a needle at rest on a surface reports nothing twice", "[hand]") {
    const Needle needle;
    SectionDrive drive(needle, SectionTissue{});
    // Inch the tip to the donor's front and stop within a hundredth of a micrometre of it, then rest.
    drive.place(before(needle, {-1.2, 0.0}, 38.0, 0.1));
    std::string all;
    for (int i = 0; i < 400; ++i) {
        HandTick hand;
        hand.turn_deg = i < 200 ? 0.1 / 199.99 : 0.0;
        drive.step(hand);
        all += events(drive);
    }
    CHECK((all.empty() || all == "entered_front"));
}

TEST_CASE("drive: the same hand makes the same bits", "[hand][determinism]") {
    const auto run = [] {
        const Needle needle;
        const SectionTissue tissue;
        SectionDrive drive(needle, tissue);
        BitHash hash;
        const scenes::ExpertBite bite = scenes::expert_bite(needle, tissue);
        for (const scenes::ExpertStroke& stroke : {bite.donor, bite.host}) {
            drive.place(needle_at(needle, stroke.tip, stroke.pitch_deg));
            for (int i = 0; i < 500; ++i) {
                HandTick hand;
                hand.eversion_deg = stroke.eversion_deg + 5.0 * std::sin(0.05 * i);
                hand.turn_deg = i < 60 ? 0.0 : 0.06;
                hand.shift_mm = {2e-4 * std::sin(0.1 * i), 1e-4};
                drive.step(hand);
                hash.add(drive.pose().centre);
                hash.add(drive.pose().tip_rad);
                hash.add(drive.trauma_uJ());
                hash.add(drive.donor_push_mN());
                for (const DriveEvent event : drive.take_events()) hash.add(static_cast<double>(event));
            }
        }
        hash.add(drive.donor_pass().depth_um);
        hash.add(drive.host_pass().depth_um);
        return hash.value();
    };
    CHECK(run() == run());
}
