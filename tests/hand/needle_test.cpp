// Needle and lip against plain geometry.
#include "hand/needle.h"

#include <catch2/catch.hpp>

#include "hand/lip.h"

namespace graftwright {
namespace {

TEST_CASE("needle: 3/8, 1/2 and corneal arcs have the radius, chord and sagitta of plain geometry", "[hand][handbook]") {
    // T7-03, T7-04, T7-05: arc 6 mm; R = L/θ, chord = 2R sin(θ/2), sagitta = R(1 − cos(θ/2)).
    struct Row {
        double sweep_deg, radius, chord, sagitta;
    };
    for (const Row& row : {Row{135, 2.5465, 4.7053, 1.572}, Row{180, 1.9099, 3.8197, 1.9099}, Row{140, 2.456, 4.615, 1.616}}) {
        const Needle needle{6.0, row.sweep_deg};
        CHECK(needle.radius_mm() == Approx(row.radius).margin(6e-4));
        CHECK(needle.chord_mm() == Approx(row.chord).margin(6e-4));
        CHECK(needle.sagitta_mm() == Approx(row.sagitta).margin(6e-4));
    }
}

TEST_CASE("needle: set down at a point with a pitch, it is there and heads so", "[hand]") {
    const Needle needle;
    for (const double pitch : {-40.0, 0.0, 20.0, 38.0, 85.0}) {
        const NeedlePose pose = needle_at(needle, {-1.2, 0.03}, pitch);
        CHECK(pose.at(needle).x == Approx(-1.2));
        CHECK(pose.at(needle).y == Approx(0.03));
        CHECK(pose.pitch_deg() == Approx(pitch).margin(1e-9));
        const Point behind = pose.at(needle, 0.01);  // where it came from: inward, and up where it heads down
        CHECK(behind.x < -1.2 + 0.01);
    }
}

TEST_CASE("lip: flat tissue and lifted tissue map onto each other, and the middle keeps its length", "[hand]") {
    for (const double eversion_deg : {0.0, 5.0, 20.0, 40.0}) {
        const Lip lip{-0.1, 0.55, rad_from_deg(eversion_deg)};
        for (const Point flat : {Point{-0.3, -0.1}, Point{-1.1, -0.5}, Point{-1.9, 0.0}, Point{-2.6, -0.3}}) {
            const Point back = lip.flattened(lip.everted(flat));
            CHECK(back.x == Approx(flat.x).margin(1e-9));
            CHECK(back.y == Approx(flat.y).margin(1e-9));
        }
        double length = 0.0;
        Point last = lip.everted({-2.1, -0.275});
        for (int i = 1; i <= 400; ++i) {
            const Point next = lip.everted({-2.1 + 2.0 * i / 400.0, -0.275});
            length += std::hypot(next.x - last.x, next.y - last.y);
            last = next;
        }
        CHECK(length == Approx(2.0).margin(1e-4));
        // At its end the lip has turned by the eversion.
        const Point front = lip.everted({-0.1, 0.0}), rear = lip.everted({-0.1, -0.55});
        CHECK(deg_from_rad(std::atan2(rear.x - front.x, front.y - rear.y)) == Approx(eversion_deg).margin(1e-6));
    }
}

}  // namespace
}  // namespace graftwright
