// One bite in the section: circles where nothing disturbs, depth that is earned, a price for pushing.
#include "hand/section_drive.h"

#include <cstring>

#include <catch2/catch.hpp>

#include "../scenes/expert_drive.h"

namespace graftwright {
namespace {

using scenes::expert_bite;
using scenes::ExpertAim;

constexpr double kAbove_mm = 0.003;  // the tip starts outside of the tissue

// A drive with its tip just over the surface's entry, `bite` from the donor's edge.
SectionDrive at_entry(double bite_mm, double pitch_deg, const SectionTissue& tissue = {}) {
    SectionDrive drive(Needle{}, tissue);
    drive.place(needle_at(Needle{}, {-tissue.gap_mm - bite_mm, kAbove_mm}, pitch_deg));
    return drive;
}

std::vector<DriveEvent> turn(SectionDrive& drive, double deg, double per_tick = 0.125, double eversion_deg = 0.0) {
    std::vector<DriveEvent> events;
    const int ticks = static_cast<int>(std::lround(std::abs(deg) / per_tick));
    for (int i = 0; i < ticks; ++i) {
        drive.step({deg > 0 ? per_tick : -per_tick, {}, eversion_deg});
        for (const DriveEvent event : drive.take_events()) events.push_back(event);
    }
    return events;
}

TEST_CASE("drive: an undisturbed arc agrees with the circle to a micrometre, through tissue and air", "[hand]") {
    const Needle needle;
    SectionDrive drive = at_entry(1.1, 30.0);
    NeedlePose pure = drive.pose();
    double worst = 0.0;
    for (int tick = 0; tick < 960; ++tick) {  // 120°
        drive.step({0.125, {}, 0.0});
        pure.tip_rad += rad_from_deg(0.125);
        const Point there = drive.pose().at(needle), expected = pure.at(needle);
        worst = std::max(worst, std::hypot(there.x - expected.x, there.y - expected.y));
    }
    CHECK(worst < 1e-3);
    CHECK(drive.trauma_uJ() < 0.05);
}

TEST_CASE("drive: a plain arc over two millimetres reaches a fifth of one", "[hand][handbook]") {
    // T7-07: depth R − √(R² − (b/2)²) = 0.204 mm at b = 2.0, entered at asin(b/2R) = 23.1°.
    SectionTissue wide;
    wide.donor_thickness_mm = 0.55;
    SectionDrive drive = at_entry(2.15, 23.1, wide);
    double deepest = 0.0;
    for (int tick = 0; tick < 500; ++tick) {
        drive.step({0.125, {}, 0.0});
        deepest = std::max(deepest, drive.tip_depth_um());
    }
    CHECK(deepest == Approx(204.0).margin(4.0));
    CHECK_FALSE(drive.donor_pass().complete);
}

TEST_CASE("drive: a steep entry leaves the wound face where the circle says", "[hand][handbook]") {
    // Circle through the entry at 38° down, R = 2.5465: sin(38° − ψ) = sin 38° − 1.1/R, depth = R(cos(38° − ψ) − cos 38°).
    const double radius = Needle{}.radius_mm(), pitch = rad_from_deg(38.0);
    const double out = std::asin(std::sin(pitch) - 1.1 / radius);
    const double depth_um = um_from_mm(radius * (std::cos(out) - std::cos(pitch)));
    SectionDrive drive = at_entry(1.1, 38.0);
    const std::vector<DriveEvent> events = turn(drive, 28.0);
    REQUIRE(drive.donor_pass().complete);
    CHECK(drive.donor_pass().depth_um == Approx(depth_um).margin(10.0));
    CHECK(drive.donor_pass().bite_mm == Approx(1.1).margin(0.01));
    CHECK(drive.donor_pass().surface_deg == Approx(38.0).margin(1.0));
    CHECK(events == std::vector<DriveEvent>{DriveEvent::entered_front, DriveEvent::left_face});
}

TEST_CASE("drive: lifting the lip makes the same stroke deeper in the flattened tissue", "[hand]") {
    const auto depth = [](double eversion_deg) {
        SectionDrive drive(Needle{}, {});
        HandTick lift;
        lift.eversion_deg = eversion_deg;
        drive.place(needle_at(Needle{}, {-1.2, 2.0}, 0.0));
        for (int i = 0; i < 2400 && drive.eversion_deg() != eversion_deg; ++i) drive.step(lift);
        (void)drive.take_events();
        drive.place(needle_at(Needle{}, drive.everted({-1.2, kAbove_mm}), 20.0));
        turn(drive, 34.0, 0.125, eversion_deg);
        REQUIRE(drive.donor_pass().complete);
        return drive.donor_pass().depth_um;
    };
    const double flat = depth(0.0), lifted = depth(20.0);
    CHECK(lifted > flat + 100.0);
}

TEST_CASE("drive: eversion and re-grasping bring an expert to nine tenths on both sides, with 1.1 mm each", "[hand]") {
    for (const double rim_mm : {0.62, 0.75}) {
        SectionTissue tissue;
        tissue.rim_thickness_mm = rim_mm;
        SectionDrive drive(Needle{}, tissue);
        const scenes::ExpertBite bite = expert_bite(drive.needle(), tissue, {});
        scenes::play(drive, bite.donor);
        scenes::play(drive, bite.host);
        REQUIRE(drive.donor_pass().complete);
        REQUIRE(drive.host_pass().complete);
        for (const auto& [pass, thickness_mm] : {std::pair{drive.donor_pass(), 0.55}, std::pair{drive.host_pass(), rim_mm}}) {
            const double fraction = mm_from_um(pass.depth_um) / thickness_mm;
            INFO("rim " << rim_mm << ", depth " << fraction << ", bite " << pass.bite_mm);
            CHECK(fraction > 0.88);
            CHECK(fraction < 0.95);
            CHECK(pass.bite_mm == Approx(1.1).margin(0.05));
            CHECK_FALSE(pass.through_back);
            CHECK(pass.surface_deg > 0.0);
            CHECK(pass.surface_deg <= 90.0);
        }
        CHECK(drive.trauma_uJ() < 1.0);
    }
}

TEST_CASE("drive: pushing instead of turning drags the tissue and is felt by the donor", "[hand]") {
    SectionDrive turned = at_entry(1.1, 30.0), pushed = at_entry(1.1, 30.0);
    turn(turned, 15.0);
    turn(pushed, 15.0);
    double push_mN = 0.0;
    for (int i = 0; i < 120; ++i) {
        pushed.step({0.0, {0.002, 0.0}, 0.0});
        push_mN = std::max(push_mN, std::abs(pushed.donor_push_mN()));
        turned.step({0.0, {}, 0.0});
    }
    CHECK(pushed.trauma_uJ() > turned.trauma_uJ() + 0.5);
    CHECK(push_mN > 1.0);
}

TEST_CASE("drive: too steep goes through the back; turning back returns, and every event comes once", "[hand]") {
    SectionDrive drive = at_entry(1.1, 65.0);
    std::vector<DriveEvent> events = turn(drive, 20.0);
    CHECK(events == std::vector<DriveEvent>{DriveEvent::entered_front, DriveEvent::through_back});
    CHECK(drive.in_chamber());
    CHECK(drive.donor_pass().through_back);
    events = turn(drive, -22.0);
    CHECK(events == std::vector<DriveEvent>{DriveEvent::back_in_tissue, DriveEvent::withdrawn});
    CHECK_FALSE(drive.in_chamber());
    CHECK_FALSE(drive.donor_pass().complete);
}

TEST_CASE("drive: too flat comes out of the front short of the wound, and is no pass", "[hand]") {
    SectionDrive drive = at_entry(1.1, 10.0);
    const std::vector<DriveEvent> events = turn(drive, 24.0);
    REQUIRE(events.size() == 2);
    CHECK(events.back() == DriveEvent::withdrawn);
    CHECK_FALSE(drive.donor_pass().complete);
}

// The bits of everything that a drive tells.
std::uint64_t told(const SectionDrive& drive) {
    std::uint64_t hash = 1469598103934665603ULL;
    const NeedlePose pose = drive.pose();
    for (const double value : {pose.centre.x, pose.centre.y, pose.tip_rad, drive.trauma_uJ(), drive.donor_push_mN(),
                               drive.tip_depth_um(), drive.donor_pass().depth_um, drive.host_pass().bite_mm}) {
        std::uint64_t bits = 0;
        std::memcpy(&bits, &value, sizeof bits);
        hash = (hash ^ bits) * 1099511628211ULL;
    }
    return hash;
}

TEST_CASE("drive: whatever the hand does, there is no NaN, and the same again gives the same bits", "[hand]") {
    const auto play = [] {
        SectionDrive drive = at_entry(1.0, 35.0);
        std::uint32_t random = 12345;
        const auto next = [&] {
            random = random * 1664525U + 1013904223U;
            return static_cast<double>(random) / 4294967296.0 - 0.5;
        };
        std::uint64_t hash = 0;
        for (int tick = 0; tick < 20000; ++tick) {
            if (tick % 997 == 0) drive.place(needle_at(Needle{}, {3.0 * next(), next()}, 170.0 * next()));
            drive.step({4.0 * next(), {0.1 * next(), 0.1 * next()}, 80.0 * next()});
            (void)drive.take_events();
            REQUIRE(std::isfinite(drive.pose().centre.x));
            REQUIRE(std::isfinite(drive.trauma_uJ()));
            hash = hash * 31 + told(drive);
        }
        return hash;
    };
    CHECK(play() == play());
}

}  // namespace
}  // namespace graftwright
