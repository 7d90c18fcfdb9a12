// Hands that no one has: anything, at any moment, for 20,000 ticks. Nothing aborts, nothing is NaN,
// and the same anything makes the same bits.
#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include <catch2/catch.hpp>

#include "drives.h"
#include "hand/donor_afloat.h"
#include "hand/knot_in_hand.h"
#include "hand/section_drive.h"

using namespace graftwright;
using namespace graftwright::drives;

namespace {

constexpr int kTicks = 20'000;

// Mostly a hand's numbers, now and then ones that nobody makes.
class Anything {
  public:
    explicit Anything(unsigned seed) : engine_(seed) {}

    bool chance(double p) { return unit() < p; }
    double unit() { return static_cast<double>(engine_() >> 11) * 0x1p-53; }
    double about(double size) {
        if (chance(0.002)) return std::numeric_limits<double>::quiet_NaN();
        if (chance(0.002)) return std::numeric_limits<double>::infinity();
        if (chance(0.002)) return -1e300;
        if (chance(0.01)) return (2.0 * unit() - 1.0) * size * 1e4;
        return (2.0 * unit() - 1.0) * size;
    }

  private:
    std::mt19937_64 engine_;
};

unsigned long long drive_anyhow(unsigned seed) {
    Anything any(seed);
    const Needle needle;
    SectionTissue tissue;
    tissue.gap_mm = 0.3 * any.unit();
    SectionDrive drive(needle, tissue);
    BitHash hash;
    bool finite = true, within = true;
    double trauma = 0.0;
    for (int i = 0; i < kTicks; ++i) {
        if (any.chance(0.002)) {
            const Point tip{-1.2 + any.about(1.5), any.about(0.7)};
            drive.place(needle_at(needle, tip, any.about(60.0)));
        }
        const double way = any.chance(0.5) ? 0.4 : 0.0;
        drive.step({any.about(0.5) + way, {any.about(0.005), any.about(0.005)}, 20.0 + any.about(30.0)});
        const NeedlePose pose = drive.pose();
        for (const double value : {pose.centre.x, pose.centre.y, pose.tip_rad, drive.trauma_uJ(), drive.donor_push_mN(),
                                   drive.tip_depth_um(), drive.across_mN()}) {
            finite = finite && std::isfinite(value);
            hash.add(value);
        }
        for (const DriveEvent event : drive.take_events()) hash.add(static_cast<double>(event));
        for (const PassResult* pass : {&drive.donor_pass(), &drive.host_pass()}) {
            if (!pass->complete) continue;
            within = within && pass->bite_mm >= 0.2 && pass->bite_mm <= 3.0 && pass->depth_um >= 1.0 &&
                     pass->depth_um <= 620.0 && pass->surface_deg > 0.0 && pass->surface_deg <= 90.0;
        }
        within = within && drive.trauma_uJ() >= trauma && drive.eversion_deg() >= 0.0 && drive.eversion_deg() <= 40.0;
        trauma = drive.trauma_uJ();
    }
    CHECK(finite);
    CHECK(within);
    return hash.value();
}

unsigned long long float_anyhow(unsigned seed) {
    Anything any(seed);
    AfloatShape shape;
    shape.bed_ovality_mm = 0.5 * any.unit();
    shape.donor_ovality_mm = any.chance(0.5) ? 0.5 * any.unit() : 0.0;
    DonorAfloat donor{shape, {0.1, 0.1, 0.1}};
    BitHash hash;
    bool finite = true;
    double farthest = 0.0;
    std::size_t tied = 0;
    for (int i = 0; i < kTicks; ++i) {
        if (any.chance(0.002) && donor.tethers() < 16) tied = donor.tether(360.0 * any.unit(), 360.0 * any.unit());
        if (any.chance(0.002)) donor.cut(static_cast<std::size_t>(any.unit() * static_cast<double>(tied + 2)));
        if (any.chance(0.01)) donor.hold({any.about(5.0), any.about(5.0)});
        if (any.chance(0.02)) donor.move_hold({any.about(5.0), any.about(5.0)});
        if (any.chance(0.01)) donor.let_go();
        for (int k = 0; k < 3; ++k) donor.push({any.about(5.0), any.about(5.0)}, {any.about(10.0), any.about(10.0)});
        donor.step();
        const DonorPose pose = donor.pose();
        for (const double value : {pose.x, pose.y, pose.turn, donor.hold_point().x}) {
            finite = finite && std::isfinite(value);
            hash.add(value);
        }
        farthest = std::max(farthest, std::hypot(pose.x, pose.y));
    }
    CHECK(finite);
    // Play 0.25 mm, ovalities a quarter of 0.5 mm each and a little for what presses it into the wall.
    CHECK(farthest < 0.6);
    return hash.value();
}

unsigned long long knot_anyhow(unsigned seed) {
    Anything any(seed);
    BitHash hash;
    bool sound = true;
    KnotInHand knot(KnotLimits{});
    for (int i = 0; i < kTicks; ++i) {
        if (any.chance(0.002)) knot = KnotInHand(KnotLimits{190.0, 200.0 * any.unit(), 1.5 * any.unit()});
        if (any.chance(0.005)) knot.lay({static_cast<int>(any.unit() * 6.0), any.chance(0.5)});
        if (any.chance(0.02)) knot.pull(any.about(120.0));
        knot.step();
        sound = sound && std::isfinite(knot.loop_mN()) && knot.loop_mN() >= 0.0 && std::isfinite(knot.cut_mm()) &&
                knot.cut_mm() >= 0.0 && knot.cut_mm() <= 1.5 && knot.hand_mN() >= 0.0;
        hash.add(knot.loop_mN());
        hash.add(knot.cut_mm());
    }
    CHECK(sound);
    return hash.value();
}

}  // namespace

TEST_CASE("fuzz: a needle in any hand stays finite and repeats to the bit", "[hand][fuzz]") {
    for (const unsigned seed : {1U, 2U, 3U}) CHECK(drive_anyhow(seed) == drive_anyhow(seed));
}

TEST_CASE("fuzz: a donor pushed, held and tied anyhow stays in its bed and repeats to the bit", "[hand][fuzz]") {
    for (const unsigned seed : {1U, 2U, 3U}) CHECK(float_anyhow(seed) == float_anyhow(seed));
}

TEST_CASE("fuzz: a knot in any hand stays sound and repeats to the bit", "[hand][fuzz]") {
    for (const unsigned seed : {1U, 2U, 3U}) CHECK(knot_anyhow(seed) == knot_anyhow(seed));
}
