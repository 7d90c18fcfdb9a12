#include "hand/needle.h"

#include <catch2/catch.hpp>

#include "hand/lip.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double kExact = 1e-12;     // mm, degrees: a few roundings of numbers of a few units
constexpr double kAsPrinted = 5e-5;  // the tables' own digits

}  // namespace

TEST_CASE("needle: radius, chord and sagitta of the usual arcs are those of the tables", "[hand][handbook]") {
    // T7-03, T7-04 (geometry): 3/8 and 1/2 circle of 6 mm; T7-05: 140 and 160 degrees (three digits).
    const Needle three_eighths{6.0, 135.0}, half{6.0, 180.0};
    CHECK_THAT(three_eighths.radius_mm(), WithinAbs(2.5465, kAsPrinted));
    CHECK_THAT(three_eighths.chord_mm(), WithinAbs(4.7053, kAsPrinted));
    CHECK_THAT(three_eighths.sagitta_mm(), WithinAbs(1.572, 5e-4));
    CHECK_THAT(half.radius_mm(), WithinAbs(1.9099, kAsPrinted));
    CHECK_THAT(half.chord_mm(), WithinAbs(3.8197, kAsPrinted));
    CHECK_THAT(half.sagitta_mm(), WithinAbs(1.9099, kAsPrinted));
    CHECK_THAT((Needle{6.0, 140.0}.chord_mm()), WithinAbs(4.615, 5e-4));
    CHECK_THAT((Needle{6.0, 160.0}.radius_mm()), WithinAbs(2.149, 5e-4));
    CHECK(Needle{}.arc_mm == 6.0);
    CHECK(Needle{}.sweep_deg == 135.0);
}

TEST_CASE("needle: set down at a point and a pitch, it is there at that pitch", "[hand]") {
    const Needle needle;
    for (double pitch = -175.0; pitch <= 180.0; pitch += 12.5) {
        const Point tip{-1.2 + 0.01 * pitch, 0.3};
        const NeedlePose pose = needle_at(needle, tip, pitch);
        INFO("pitch " << pitch);
        CHECK_THAT(pose.pitch_deg(), WithinAbs(pitch, kExact * 100));
        CHECK_THAT(pose.at(needle).x, WithinAbs(tip.x, kExact));
        CHECK_THAT(pose.at(needle).y, WithinAbs(tip.y, kExact));
    }
}

TEST_CASE("needle: turned forward its tip goes down, outward and up again, the body after it", "[hand]") {
    const Needle needle;
    NeedlePose pose = needle_at(needle, {0.0, 0.0}, 40.0);
    const Point start = pose.at(needle);
    pose.tip_rad += rad_from_deg(1.0);
    CHECK(pose.at(needle).x > start.x);
    CHECK(pose.at(needle).y < start.y);
    CHECK_THAT(pose.pitch_deg(), WithinAbs(39.0, 1e-9));
    // A degree of turn is Rπ/180 of arc: the point that far behind the tip is where the tip was.
    const Point trailing = pose.at(needle, needle.radius_mm() * kPi / 180.0);
    CHECK_THAT(trailing.x, WithinAbs(start.x, kExact));
    CHECK_THAT(trailing.y, WithinAbs(start.y, kExact));
    // The tail, a whole arc behind, stands a chord away and above the surface.
    const Point tail = pose.at(needle, needle.arc_mm);
    CHECK_THAT(std::hypot(tail.x - pose.at(needle).x, tail.y - pose.at(needle).y),
               WithinAbs(needle.chord_mm(), kExact));
    CHECK(tail.y > 1.0);
}

TEST_CASE("lip: flat tissue lifted and laid down again is where it was", "[hand]") {
    for (const double deg : {0.0, 1e-7, 3.0, 20.0, 40.0}) {
        const Lip lip{-0.1, 0.55, rad_from_deg(deg)};
        for (double x = -4.0; x <= 0.4; x += 0.17) {
            for (const double y : {0.05, 0.0, -0.2, -0.55, -0.6}) {
                const Point back = lip.flattened(lip.everted({x, y}));
                INFO("eversion " << deg << ", at " << x << ", " << y);
                // At 1e-7° the arc's radius is 1e9 mm and a coordinate keeps 1e-7 of a millimetre.
                CHECK_THAT(back.x, WithinAbs(x, 1e-6));
                CHECK_THAT(back.y, WithinAbs(y, 1e-6));
            }
        }
    }
}

TEST_CASE("lip: its back keeps its length, its fibres theirs, and its end turns by the eversion", "[hand][handbook]") {
    const Lip lip{-0.1, 0.55, rad_from_deg(30.0)};
    const auto length_at = [&](double depth) {
        double sum = 0.0;
        const int pieces = 2000;
        Point last = lip.everted({lip.hinge_x(), -depth});
        for (int i = 1; i <= pieces; ++i) {
            const Point next = lip.everted({lip.hinge_x() + kLipLength_mm * i / pieces, -depth});
            sum += std::hypot(next.x - last.x, next.y - last.y);
            last = next;
        }
        return sum;
    };
    // A plate bent by ε about its back: L − ε (t − d) at depth d.
    const double bend = rad_from_deg(30.0);
    CHECK_THAT(length_at(0.55), WithinAbs(kLipLength_mm, 1e-6));
    CHECK_THAT(length_at(0.275), WithinAbs(kLipLength_mm - 0.275 * bend, 1e-6));
    CHECK_THAT(length_at(0.0), WithinAbs(kLipLength_mm - 0.55 * bend, 1e-6));
    const Point front = lip.everted({-0.1, 0.0}), back = lip.everted({-0.1, -0.55});
    CHECK_THAT(std::hypot(front.x - back.x, front.y - back.y), WithinAbs(0.55, kExact));
    CHECK(back.x < -0.1);  // nor does any of it come nearer to the host
    // The face, square to the surface, leans back by 30° from the upright.
    CHECK_THAT(deg_from_rad(std::atan2(back.x - front.x, front.y - back.y)), WithinAbs(30.0, 1e-9));
}

TEST_CASE("lip: a direction flattens as the points along it do", "[hand]") {
    const Lip lip{-0.1, 0.55, rad_from_deg(25.0)};
    constexpr double kStep = 1e-6;
    for (const Point flat : {Point{-3.0, -0.2}, Point{-1.2, 0.0}, Point{-0.3, -0.5}, Point{0.2, -0.3}}) {
        const Point at = lip.everted(flat);
        const Point direction{0.8, -0.6};
        const Point ahead = lip.flattened({at.x + kStep * direction.x, at.y + kStep * direction.y});
        const Point straight = lip.flattened_direction(at, direction);
        INFO("at " << flat.x << ", " << flat.y);
        CHECK_THAT((ahead.x - flat.x) / kStep, WithinAbs(straight.x, 1e-5));
        CHECK_THAT((ahead.y - flat.y) / kStep, WithinAbs(straight.y, 1e-5));
    }
}
