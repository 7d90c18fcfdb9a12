#include "hand/section_drive.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/point.h"
#include "base/units.h"
#include "hand/bite_passes.h"
#include "hand/needle_in_grip.h"
#include "hand/wound_section.h"

namespace graftwright {
namespace {

// How fast a hand gets; what it asks beyond this in a tick is done in the next ones. Our choices.
constexpr double kMostTurn_deg = 1.5;           // 360°/s
constexpr double kMostShift_mm = 0.05;          // 12 mm/s
constexpr double kMostEversion_deg_tick = 0.5;  // 120°/s
// What may be owed: more, asked in one go, is no hand's.
constexpr double kMostOwedTurn_deg = 15.0;
constexpr double kMostOwedShift_mm = 1.0;
// How far the hand runs ahead of a needle that the tissue holds, before it feels that and stops.
constexpr double kMostLead_mm = 0.25;
constexpr double kMostLead_rad = 0.1;
// Where the hand may take the needle: well beyond anything the section shows.
constexpr double kFarthest_mm = 15.0;
constexpr double kMostTurned_rad = 4.0 * kPi;

// A donor that leans on the host or over it is lifted apart by this much to be sutured. Our choice.
constexpr double kLeastGap_mm = 0.02;

// Tearing the innermost layer: trauma counted once for every way through. Our choice: as much as
// dragging the needle a millimetre sideways at the force a light hold gives.
constexpr double kPerforation_uJ = 30.0;

constexpr double kWalk_mm = 0.005;  // the tip is looked at this often between two ticks
constexpr double kStill_mm = 1e-4;  // less is the rounding of a needle at rest: no crossing comes of it
constexpr double kSame_mm = 1e-3;   // (and rad) a needle set down this near to where it is has not moved
constexpr int kHalvings = 30;       // of a walk step: a crossing is found to far below a nanometre
constexpr int kMostCrossings = 4;   // in a walk step; a corner takes two

double finite_or_zero(double value) { return std::isfinite(value) ? value : 0.0; }
double between(double a, double b, double t) { return a + t * (b - a); }
Point between(Point a, Point b, double t) { return {between(a.x, b.x, t), between(a.y, b.y, t)}; }

// Adds to what is owed and takes off what one tick can do.
double pay(double& owed, double more, double most_owed, double most_now) {
    owed = std::clamp(owed + finite_or_zero(more), -most_owed, most_owed);
    const double now = std::clamp(owed, -most_now, most_now);
    owed -= now;
    return now;
}

NeedlePose within_reach(NeedlePose pose) {
    pose.centre.x = std::clamp(pose.centre.x, -kFarthest_mm, kFarthest_mm);
    pose.centre.y = std::clamp(pose.centre.y, -kFarthest_mm, kFarthest_mm);
    pose.tip_rad = std::clamp(pose.tip_rad, -kMostTurned_rad, kMostTurned_rad);
    return pose;
}

bool same_place(const NeedlePose& a, const NeedlePose& b) {
    return distance(a.centre, b.centre) < kSame_mm && std::abs(a.tip_rad - b.tip_rad) < kSame_mm;
}

// The tip's way from one pose and lip to another; a pure turn stays on its circle.
struct TipPath {
    const Needle& needle;
    NeedlePose from, to;
    const WoundSection &before, &after;

    struct Moment {
        WoundSection section;
        Point tip, heading;
        Where where;
    };

    [[nodiscard]] Moment at(double t) const {
        const NeedlePose pose{between(from.centre, to.centre, t), between(from.tip_rad, to.tip_rad, t)};
        Moment moment{after, pose.at(needle), {-std::sin(pose.tip_rad), std::cos(pose.tip_rad)}, Where::front};
        moment.section.lip.eversion = between(before.lip.eversion, after.lip.eversion, t);
        moment.where = moment.section.at(moment.tip);
        return moment;
    }
    // At least as long as the tip's way through the tissue.
    [[nodiscard]] double length() const {
        return distance(from.centre, to.centre) + needle.radius_mm() * std::abs(to.tip_rad - from.tip_rad) +
               2.0 * kLipLength_mm * std::abs(after.lip.eversion - before.lip.eversion);
    }
    // The end of [low, high], `high` being elsewhere than `where`, at which the tip has just left it.
    [[nodiscard]] double leaves(Where where, double low, double high) const {
        for (int k = 0; k < kHalvings; ++k) {
            const double middle = (low + high) / 2.0;
            (at(middle).where == where ? low : high) = middle;
        }
        return high;
    }
};

}  // namespace

struct SectionDrive::Body {
    Needle needle;
    NeedleInGrip grip;
    WoundSection section;
    WoundSection walked_section;  // up to here the tip's way has been looked at
    NeedlePose walked;
    BitePasses passes;
    NeedlePose hand;             // where the hand would have the needle
    double owed_turn_deg = 0.0;  // asked for, not yet done
    Point owed_shift_mm;
    double eversion_deg = 0.0;
    Where where = Where::front;
    double trauma_uJ = 0.0;
    DragReport drag;

    Body(const Needle& of, const SectionTissue& tissue)
        : needle(of), grip(of), section(tissue), walked_section(section) {
        // Out of the way until it is placed.
        place(needle_at(needle, {-tissue.gap_mm - 1.0, 1.0}, 30.0));
    }
    void place(const NeedlePose& pose);
    void step(const HandTick& tick);
    NeedlePose move_hand(const HandTick& tick);
    void keep_hand_near();
    void walk_tip();
};

void SectionDrive::Body::place(const NeedlePose& pose) {
    if (!std::isfinite(pose.centre.x) || !std::isfinite(pose.centre.y) || !std::isfinite(pose.tip_rad)) return;
    const bool moved = !same_place(pose, grip.pose());
    if (moved) grip.place(within_reach(pose));
    hand = grip.pose();  // as the body has it, so that nothing pulls
    owed_turn_deg = 0.0;
    owed_shift_mm = {};
    drag = {};
    if (!moved) return;
    walked = hand;
    passes.new_stroke();
    const Point tip = hand.at(needle);
    section.donor_on_needle = true;
    where = section.at(tip);
    // In the wound, or anywhere but over the donor once that is done: the host's turn.
    if (where == Where::gap || (where != Where::front && passes.donor().complete)) {
        section.donor_on_needle = false;
        where = section.at(tip);
    }
    walked_section = section;
}

NeedlePose SectionDrive::Body::move_hand(const HandTick& tick) {
    const double wish = std::clamp(finite_or_zero(tick.eversion_deg), 0.0, kMostEversion_deg);
    eversion_deg += std::clamp(wish - eversion_deg, -kMostEversion_deg_tick, kMostEversion_deg_tick);
    section.lip.eversion = rad_from_deg(eversion_deg);
    const NeedlePose before = hand;
    hand.tip_rad += rad_from_deg(pay(owed_turn_deg, tick.turn_deg, kMostOwedTurn_deg, kMostTurn_deg));
    hand.centre.x += pay(owed_shift_mm.x, tick.shift_mm.x, kMostOwedShift_mm, kMostShift_mm);
    hand.centre.y += pay(owed_shift_mm.y, tick.shift_mm.y, kMostOwedShift_mm, kMostShift_mm);
    hand = within_reach(hand);
    return before;
}

void SectionDrive::Body::keep_hand_near() {
    const NeedlePose now = grip.pose();
    const double dx = hand.centre.x - now.centre.x, dy = hand.centre.y - now.centre.y;
    const double lead = std::hypot(dx, dy);
    if (lead > kMostLead_mm) {
        const double share = kMostLead_mm / lead;
        hand.centre = {now.centre.x + share * dx, now.centre.y + share * dy};
    }
    hand.tip_rad = std::clamp(hand.tip_rad, now.tip_rad - kMostLead_rad, now.tip_rad + kMostLead_rad);
}

void SectionDrive::Body::step(const HandTick& tick) {
    const WoundSection before = section;
    const NeedlePose hand_before = move_hand(tick);
    drag = grip.step(hand_before, hand, before, section);
    trauma_uJ += drag.across_uJ;
    keep_hand_near();
    walk_tip();
}

void SectionDrive::Body::walk_tip() {
    const TipPath path{needle, walked, grip.pose(), walked_section, section};
    const double length = path.length();
    if (length < kStill_mm) return;
    const int steps = static_cast<int>(length / kWalk_mm) + 1;
    double done = 0.0;
    for (int i = 1; i <= steps; ++i) {
        const double goal = static_cast<double>(i) / steps;
        for (int crossings = 0; crossings < kMostCrossings && path.at(goal).where != where; ++crossings) {
            done = path.leaves(where, done, goal);
            const TipPath::Moment moment = path.at(done);
            passes.cross(where, moment.where, moment.section, moment.tip, moment.heading);
            const bool tears = moment.where == Where::chamber && (where == Where::donor || where == Where::host);
            if (tears) trauma_uJ += kPerforation_uJ;
            where = moment.where;
        }
        done = goal;
    }
    walked = path.to;
    walked_section = section;
    passes.tip_at(where, section, walked.at(needle));
}

SectionDrive::SectionDrive(const Needle& needle, const SectionTissue& tissue) {
    GRAFTWRIGHT_CHECK(needle.arc_mm > 0.0 && needle.sweep_deg > 0.0, "a needle has a length and a sweep");
    GRAFTWRIGHT_CHECK(tissue.donor_thickness_mm > 0.0 && tissue.rim_thickness_mm > 0.0, "tissue has a thickness");
    GRAFTWRIGHT_CHECK(std::isfinite(tissue.gap_mm) && tissue.softness > 0.0, "tissue has a place and a softness");
    SectionTissue apart = tissue;
    apart.gap_mm = std::max(tissue.gap_mm, kLeastGap_mm);
    body_ = std::make_unique<Body>(needle, apart);
}
SectionDrive::~SectionDrive() = default;
SectionDrive::SectionDrive(SectionDrive&&) noexcept = default;
SectionDrive& SectionDrive::operator=(SectionDrive&&) noexcept = default;

void SectionDrive::place(const NeedlePose& pose) { body_->place(pose); }
void SectionDrive::step(const HandTick& hand) { body_->step(hand); }
std::vector<DriveEvent> SectionDrive::take_events() { return body_->passes.take_events(); }

NeedlePose SectionDrive::pose() const { return body_->grip.pose(); }
NeedlePose SectionDrive::hand_pose() const { return body_->hand; }
const Needle& SectionDrive::needle() const { return body_->needle; }
const SectionTissue& SectionDrive::tissue() const { return body_->section.tissue; }
double SectionDrive::eversion_deg() const { return body_->eversion_deg; }
bool SectionDrive::in_donor() const { return body_->where == Where::donor; }
bool SectionDrive::in_host() const { return body_->where == Where::host; }
bool SectionDrive::in_chamber() const { return body_->where == Where::chamber; }
double SectionDrive::tip_depth_um() const {
    return um_from_mm(body_->section.depth(body_->where, pose().at(body_->needle)));
}
const PassResult& SectionDrive::donor_pass() const { return body_->passes.donor(); }
const PassResult& SectionDrive::host_pass() const { return body_->passes.host(); }
double SectionDrive::trauma_uJ() const { return body_->trauma_uJ; }
double SectionDrive::across_mN() const { return body_->drag.across_mN; }
double SectionDrive::donor_push_mN() const { return body_->drag.on_donor_mN.x; }
Point SectionDrive::tissue_force_mN() const { return body_->drag.on_tissue_mN; }
Point SectionDrive::grip_force_mN() const { return body_->drag.grip_mN; }
const std::vector<Point>& SectionDrive::track(BiteSide side) const { return body_->passes.track(side); }
Point SectionDrive::everted(Point flat) const { return body_->section.lip.everted(flat); }
Point SectionDrive::flattened(Point space) const { return body_->section.lip.flattened(space); }

}  // namespace graftwright
