#include "hand/section_drive.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "hand/bite_passes.h"
#include "hand/needle_in_grip.h"
#include "hand/wound_section.h"

namespace graftwright {
namespace {

// How fast a hand gets: what it asks beyond this in a tick is done in the next ones.
constexpr double kMostTurn_deg = 1.5;          // 360°/s
constexpr double kMostShift_mm = 0.05;         // 12 mm/s
constexpr double kMostEversionStep_deg = 0.5;  // 120°/s
// What may still be owed; a hand that asks for more in one go is not one.
constexpr double kMostOwedTurn_deg = 15.0;
constexpr double kMostOwedShift_mm = 1.0;
// Where the hand may take the needle: well beyond anything the section shows.
constexpr double kFarthest_mm = 15.0;
constexpr double kMostRevolutions_rad = 4.0 * kPi;

// Tearing the innermost layer: counted as trauma, once for every way through. Our choice: as much as
// dragging the needle a millimetre sideways.
constexpr double kPerforation_uJ = 20.0;

constexpr double kWalk_mm = 0.005;  // the tip is looked at this often between two ticks
constexpr int kHalvings = 30;       // of a walk step, to find a crossing to far below a micrometre

double finite_or_zero(double value) { return std::isfinite(value) ? value : 0.0; }
double between(double a, double b, double t) { return a + t * (b - a); }
// Takes from what is owed at most `most`.
double take(double& owed, double most) {
    const double now = std::clamp(owed, -most, most);
    owed -= now;
    return now;
}

}  // namespace

struct SectionDrive::Body {
    Needle needle;
    NeedleInGrip grip;
    WoundSection section;
    BitePasses passes;
    NeedlePose hand;             // where the hand would have the needle
    double owed_turn_deg = 0.0;  // asked for, not yet done
    Point owed_shift_mm;
    double eversion_deg = 0.0;
    Where where = Where::front;
    double trauma_uJ = 0.0;
    DragReport last;

    Body(const Needle& of, const SectionTissue& tissue) : needle(of), grip(of), section(tissue) {
        place(needle_at(needle, {-tissue.gap_mm - 1.1, 1.0}, 30.0));
    }
    void place(const NeedlePose& pose);
    void step(const HandTick& tick);
    void walk_tip(const NeedlePose& from, const WoundSection& before);
    [[nodiscard]] Point tip() const { return grip.pose().at(needle); }
};

void SectionDrive::Body::place(const NeedlePose& pose) {
    if (!std::isfinite(pose.centre.x) || !std::isfinite(pose.centre.y) || !std::isfinite(pose.tip_rad)) return;
    hand = pose;
    hand.centre.x = std::clamp(hand.centre.x, -kFarthest_mm, kFarthest_mm);
    hand.centre.y = std::clamp(hand.centre.y, -kFarthest_mm, kFarthest_mm);
    hand.tip_rad = std::clamp(hand.tip_rad, -kMostRevolutions_rad, kMostRevolutions_rad);
    grip.place(hand);
    hand = grip.pose();  // as the body has it, so that nothing pulls
    owed_turn_deg = 0.0;
    owed_shift_mm = {};
    last = {};
    passes.new_stroke();
    section.donor_on_needle = true;
    where = section.at(tip());
    if (where == Where::gap || (where != Where::front && passes.donor().complete)) {
        section.donor_on_needle = false;
        where = section.at(tip());
    }
}

void SectionDrive::Body::step(const HandTick& tick) {
    const WoundSection before = section;
    const double wish = std::clamp(finite_or_zero(tick.eversion_deg), 0.0, kMostEversion_deg);
    eversion_deg += std::clamp(wish - eversion_deg, -kMostEversionStep_deg, kMostEversionStep_deg);
    section.lip.eversion = rad_from_deg(eversion_deg);

    const auto owe = [](double& owed, double more, double most) {
        owed = std::clamp(owed + finite_or_zero(more), -most, most);
    };
    owe(owed_turn_deg, tick.turn_deg, kMostOwedTurn_deg);
    owe(owed_shift_mm.x, tick.shift_mm.x, kMostOwedShift_mm);
    owe(owed_shift_mm.y, tick.shift_mm.y, kMostOwedShift_mm);
    const NeedlePose hand_before = hand;
    hand.tip_rad = std::clamp(hand.tip_rad + rad_from_deg(take(owed_turn_deg, kMostTurn_deg)), -kMostRevolutions_rad,
                              kMostRevolutions_rad);
    hand.centre.x = std::clamp(hand.centre.x + take(owed_shift_mm.x, kMostShift_mm), -kFarthest_mm, kFarthest_mm);
    hand.centre.y = std::clamp(hand.centre.y + take(owed_shift_mm.y, kMostShift_mm), -kFarthest_mm, kFarthest_mm);

    const NeedlePose from = grip.pose();
    last = grip.step(hand_before, hand, before, section);
    trauma_uJ += last.across_uJ;
    walk_tip(from, before);
}

void SectionDrive::Body::walk_tip(const NeedlePose& from, const WoundSection& before) {
    const NeedlePose to = grip.pose();
    struct Moment {
        WoundSection section;
        Point tip;
        Where where;
    };
    // Pose and lip part of the way through the tick; a pure turn stays on its circle.
    const auto at = [&](double t) {
        Moment moment{section, {}, Where::front};
        moment.section.lip.eversion = between(before.lip.eversion, section.lip.eversion, t);
        const NeedlePose pose{{between(from.centre.x, to.centre.x, t), between(from.centre.y, to.centre.y, t)},
                              between(from.tip_rad, to.tip_rad, t)};
        moment.tip = pose.at(needle);
        moment.where = moment.section.at(moment.tip);
        return moment;
    };
    const double far = std::hypot(to.centre.x - from.centre.x, to.centre.y - from.centre.y) +
                       needle.radius_mm() * std::abs(to.tip_rad - from.tip_rad) +
                       kLipLength_mm * std::abs(section.lip.eversion - before.lip.eversion);
    const int steps = std::clamp(static_cast<int>(far / kWalk_mm) + 1, 1, 400);
    double done = 0.0;
    for (int i = 1; i <= steps; ++i) {
        const double goal = static_cast<double>(i) / steps;
        // A step of 5 µm near a corner may cross two surfaces; more than a few is a grazing tip.
        for (int crossings = 0; crossings < 4; ++crossings) {
            Moment next = at(goal);
            if (next.where == where) break;
            double low = done, high = goal;
            for (int k = 0; k < kHalvings; ++k) {
                const double middle = (low + high) / 2.0;
                (at(middle).where == where ? low : high) = middle;
            }
            next = at(high);
            const double angle = between(from.tip_rad, to.tip_rad, high);
            passes.cross(where, next.where, next.section, next.tip, {-std::sin(angle), std::cos(angle)});
            if (next.where == Where::chamber && where != Where::gap) trauma_uJ += kPerforation_uJ;
            where = next.where;
            done = high;
        }
        done = goal;
    }
    passes.tip_at(where, section, tip());
}

SectionDrive::SectionDrive(const Needle& needle, const SectionTissue& tissue) {
    GRAFTWRIGHT_CHECK(needle.arc_mm > 0.0 && needle.sweep_deg > 0.0, "a needle has a length and a sweep");
    GRAFTWRIGHT_CHECK(tissue.donor_thickness_mm > 0.0 && tissue.rim_thickness_mm > 0.0, "tissue has a thickness");
    GRAFTWRIGHT_CHECK(tissue.gap_mm >= 0.0 && tissue.softness > 0.0, "gap and softness");
    body_ = std::make_unique<Body>(needle, tissue);
}
SectionDrive::~SectionDrive() = default;
SectionDrive::SectionDrive(SectionDrive&&) noexcept = default;
SectionDrive& SectionDrive::operator=(SectionDrive&&) noexcept = default;

void SectionDrive::place(const NeedlePose& pose) { body_->place(pose); }
void SectionDrive::step(const HandTick& hand) { body_->step(hand); }
std::vector<DriveEvent> SectionDrive::take_events() { return body_->passes.take_events(); }

NeedlePose SectionDrive::pose() const { return body_->grip.pose(); }
const Needle& SectionDrive::needle() const { return body_->needle; }
const SectionTissue& SectionDrive::tissue() const { return body_->section.tissue; }
double SectionDrive::eversion_deg() const { return body_->eversion_deg; }
bool SectionDrive::in_donor() const { return body_->where == Where::donor; }
bool SectionDrive::in_host() const { return body_->where == Where::host; }
bool SectionDrive::in_chamber() const { return body_->where == Where::chamber; }
double SectionDrive::tip_depth_um() const { return um_from_mm(body_->section.depth(body_->where, body_->tip())); }
const PassResult& SectionDrive::donor_pass() const { return body_->passes.donor(); }
const PassResult& SectionDrive::host_pass() const { return body_->passes.host(); }
double SectionDrive::trauma_uJ() const { return body_->trauma_uJ; }
double SectionDrive::donor_push_mN() const { return body_->last.on_donor_mN.x; }
const std::vector<Point>& SectionDrive::track(BiteSide side) const { return body_->passes.track(side); }
Point SectionDrive::everted(Point flat) const { return body_->section.lip.everted(flat); }

}  // namespace graftwright
