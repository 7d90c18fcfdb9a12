#include "game/bite_in_hand.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/angle.h"
#include "base/point.h"
#include "base/units.h"

namespace graftwright {
namespace {

constexpr double kSlipsOut_deg = 4.0;          // 0.2 mm of the needle (our choice)
constexpr double kFirstDonorPitch_deg = 20.0;  // flatter than it should be: steepening it is the trainee's part
constexpr double kFirstHostPitch_deg = 0.0;
constexpr double kHover_mm = 0.04;              // tip over the surface before it is set down
constexpr double kMostTurnPerTick_deg = 0.125;  // 30° a second, a calm wrist (our choice)
constexpr double kMostShiftPerTick_mm = 0.005;  // 1.2 mm a second
constexpr double kSteepest_deg = 85.0;
constexpr double kLipInset_mm = 0.5 * kOpenGap_mm;

Point heading(double deg) { return polar(1.0, rad_from_deg(deg)); }
double angle_deg(Point p) { return one_turn_deg(deg_from_rad(std::atan2(p.y, p.x))); }
double toward(double left, double most) { return std::clamp(left, -most, most); }

}  // namespace

double bed_radius_mm(const Scenario& scenario, double deg) {
    const Eye& eye = scenario.eye;
    return 0.5 * eye.bed_diameter_mm +
           0.25 * eye.bed_ovality_mm * std::cos(2.0 * rad_from_deg(deg - eye.bed_ovality_axis_deg));
}

double host_reach_mm(const Scenario& scenario, Point host_edge, double direction_deg) {
    const Point limbus{-scenario.eye.bed_shift_mm[0], -scenario.eye.bed_shift_mm[1]};
    const double radius = 0.5 * scenario.eye.limbus_diameter_mm;
    const Point from = minus(host_edge, limbus), d = heading(direction_deg);
    const double b = dot(from, d), c = dot(from, from) - radius * radius;
    return std::max(0.1, -b + std::sqrt(std::max(0.0, b * b - c)));
}

BiteInHand::BiteInHand(const Scenario& scenario, double first_aim_deg)
    : scenario_(&scenario), aim_deg_(first_aim_deg) {}

Point BiteInHand::direction() const { return heading(section_ ? direction_deg_ : aim_deg_ + skew_deg_); }

// Where a line from inside leaves the circle of the wound about a centre.
Point BiteInHand::edge_crossing(Point from, Point centre, double inset_mm) const {
    const Point d = direction(), p = minus(from, centre);
    double radius = bed_radius_mm(*scenario_, aim_deg_) - inset_mm;
    Point at = from;
    constexpr int kRounds = 4;  // an oval's radius follows the angle; it has settled by then
    for (int round = 0; round < kRounds; ++round) {
        const double b = dot(p, d), c = dot(p, p) - radius * radius;
        const double t = -b + std::sqrt(std::max(0.0, b * b - c));
        at = {from.x + t * d.x, from.y + t * d.y};
        radius = bed_radius_mm(*scenario_, angle_deg(minus(at, centre))) - inset_mm;
    }
    return at;
}

void BiteInHand::aim_at(Point field, const DonorPose& donor) {
    const Point p = minus(field, {donor.x, donor.y});
    aim_deg_ = angle_deg(p);
    const double edge = bed_radius_mm(*scenario_, aim_deg_) - kLipInset_mm;
    entry_distance_mm_ = std::clamp(edge - norm(p), kLeastEntry_mm, kMostEntry_mm);
}

void BiteInHand::aim_by(double around_deg, double outward_mm) {
    aim_deg_ = std::fmod(aim_deg_ + around_deg + 360.0, 360.0);
    entry_distance_mm_ = std::clamp(entry_distance_mm_ - outward_mm, kLeastEntry_mm, kMostEntry_mm);
}

void BiteInHand::skew_by(double deg) { skew_deg_ = std::clamp(skew_deg_ + deg, -45.0, 45.0); }

BitePlane BiteInHand::plane(const DonorPose& donor) const {
    BitePlane plane;
    const Point centre{donor.x, donor.y};
    const Point d = direction();
    plane.direction_deg = section_ ? direction_deg_ : aim_deg_ + skew_deg_;
    if (donor_crossing_) {
        plane.donor_edge = donor.to_field(*donor_crossing_);
        const double bite = section_->donor_pass().bite_mm;
        plane.entry = {plane.donor_edge.x - bite * d.x, plane.donor_edge.y - bite * d.y};
    } else {
        const double edge = bed_radius_mm(*scenario_, aim_deg_) - kLipInset_mm;
        const Point radial = heading(aim_deg_);
        plane.entry = pierced_   ? donor.to_field(*pierced_)
                      : section_ ? entry_
                                 : Point{centre.x + (edge - entry_distance_mm_) * radial.x,
                                         centre.y + (edge - entry_distance_mm_) * radial.y};
        plane.donor_edge = edge_crossing(plane.entry, centre, kLipInset_mm);
    }
    plane.host_edge = edge_crossing(plane.entry, {}, -kLipInset_mm);
    plane.entry_distance_mm = distance(plane.entry, plane.donor_edge);
    plane.skew_deg = turn_between_deg(angle_deg(minus(plane.donor_edge, centre)), plane.direction_deg);
    return plane;
}

void BiteInHand::approach_donor(const DonorPose& donor, double gap_mm, double eversion_deg) {
    const BitePlane plane = this->plane(donor);
    entry_ = plane.entry;
    direction_deg_ = plane.direction_deg;
    entry_distance_mm_ = plane.entry_distance_mm;
    gap_mm_ = std::max(gap_mm, kLeastGap_mm);
    eversion_deg_ = eversion_deg;
    SectionTissue tissue;
    tissue.donor_thickness_mm = mm_from_um(scenario_->graft.thickness_um);
    tissue.rim_thickness_mm = mm_from_um(scenario_->eye.rim_thickness_um);
    tissue.gap_mm = gap_mm_;
    tissue.host_reach_mm = host_reach_mm(*scenario_, plane.host_edge, direction_deg_);
    tissue.softness = 2000.0 / (scenario_->graft.modulus_kPa + scenario_->eye.modulus_kPa);
    section_.emplace(Needle{}, tissue);
    donor_crossing_.reset();
    pierced_.reset();
    on_host_ = false;
    pitch_deg_ = kFirstDonorPitch_deg;
    tip_along_mm_ = tip_depth_mm_ = 0.0;
    set_down();
}

void BiteInHand::approach_host() {
    on_host_ = true;
    pitch_deg_ = kFirstHostPitch_deg;
    tip_along_mm_ = 0.0;
    tip_depth_mm_ = mm_from_um(section_->donor_pass().depth_um);
    set_down();
}

void BiteInHand::pitch_by(double deg) {
    pitch_deg_ = std::clamp(pitch_deg_ + deg, -kSteepest_deg, kSteepest_deg);
    set_down();
}

void BiteInHand::shift_tip_by(double along_mm, double depth_mm) {
    if (on_host_) {
        tip_depth_mm_ = std::clamp(tip_depth_mm_ + depth_mm, 0.02, section_->tissue().rim_thickness_mm + 0.1);
    } else {
        const double distance = entry_distance_mm_ - tip_along_mm_ - along_mm;
        tip_along_mm_ = entry_distance_mm_ - std::clamp(distance, kLeastEntry_mm, kMostEntry_mm);
    }
    set_down();
}

void BiteInHand::set_down() {
    const SectionTissue& tissue = section_->tissue();
    turn_left_deg_ = turned_deg_ = 0.0;
    shift_left_ = {};
    approaching_ = true;
    // The needle out of the way, the lip takes the forceps' angle, then the needle is set on it.
    constexpr Point kAway{-1.0, 2.0};
    constexpr int kLongestLift = 10 * kTicksPerSecond;
    section_->place(needle_at(section_->needle(), kAway, 0.0));
    HandTick still;
    still.eversion_deg = eversion_deg_;
    for (int tick = 0; tick < kLongestLift && section_->eversion_deg() != eversion_deg_; ++tick) section_->step(still);
    (void)section_->take_events();
    if (on_host_) {
        section_->place(needle_at(section_->needle(), {-0.5 * tissue.gap_mm, -tip_depth_mm_}, pitch_deg_));
        return;
    }
    const double x = -tissue.gap_mm - (entry_distance_mm_ - tip_along_mm_);
    section_->place(needle_at(section_->needle(), section_->everted({x, kHover_mm}), pitch_deg_));
}

void BiteInHand::shift_by(Point mm) {
    shift_left_.x += mm.x;
    shift_left_.y += mm.y;
}

void BiteInHand::set_eversion(double deg) {
    eversion_deg_ = deg;
    set_down();
}

void BiteInHand::give_up() {
    skew_deg_ = 0.0;
    section_.reset();
    donor_crossing_.reset();
    pierced_.reset();
    on_host_ = approaching_ = false;
    turn_left_deg_ = turned_deg_ = 0.0;
    shift_left_ = {};
}

void BiteInHand::back_out() { turn_left_deg_ = -turned_deg_; }

std::vector<DriveEvent> BiteInHand::step(double eversion_deg, Point tremor_mm, const DonorPose& donor) {
    HandTick hand;
    hand.turn_deg = toward(turn_left_deg_, kMostTurnPerTick_deg);
    hand.shift_mm = {toward(shift_left_.x, kMostShiftPerTick_mm), toward(shift_left_.y, kMostShiftPerTick_mm)};
    turn_left_deg_ -= hand.turn_deg;
    turned_deg_ += hand.turn_deg;
    shift_left_ = minus(shift_left_, hand.shift_mm);
    hand.shift_mm.x += tremor_mm.x;
    hand.shift_mm.y += tremor_mm.y;
    hand.eversion_deg = eversion_deg_ = eversion_deg;
    approaching_ = false;
    section_->step(hand);
    std::vector<DriveEvent> events = section_->take_events();
    for (const DriveEvent event : events) {
        if (event == DriveEvent::entered_front || event == DriveEvent::entered_face) entered_at_deg_ = turned_deg_;
        if (event == DriveEvent::entered_front) pierced_ = donor.to_donor(entry_);
        if (event == DriveEvent::withdrawn && !on_host_) pierced_.reset();
        if (event != DriveEvent::left_face || !section_->donor_pass().complete || !pierced_) continue;
        // Where the path crosses the donor's edge, in the donor's own frame from here on.
        const Point edge = edge_crossing(donor.to_field(*pierced_), {donor.x, donor.y}, kLipInset_mm);
        donor_crossing_ = donor.to_donor(edge);
    }
    // A tip that trembles out again before it has gone anywhere is still being driven.
    if (hand.turn_deg >= 0.0 && turned_deg_ - entered_at_deg_ < kSlipsOut_deg)
        std::erase(events, DriveEvent::withdrawn);
    return events;
}

SectionView BiteInHand::view() const {
    SectionView view;
    const SectionDrive& section = *section_;
    view.tissue = section.tissue();
    view.needle = section.needle();
    view.pose = section.pose();
    view.eversion_deg = section.eversion_deg();
    view.tip_in_donor = section.in_donor();
    view.tip_in_host = section.in_host();
    view.tip_in_chamber = section.in_chamber();
    view.tip_depth_um = section.tip_depth_um();
    view.tip_thickness_um = um_from_mm(section.in_host()    ? view.tissue.rim_thickness_mm
                                       : section.in_donor() ? view.tissue.donor_thickness_mm
                                                            : 0.0);
    view.donor_track = section.track(BiteSide::donor);
    view.host_track = section.track(BiteSide::host);
    view.donor_pass = section.donor_pass();
    view.host_pass = section.host_pass();
    view.trauma_uJ = section.trauma_uJ();
    constexpr int kLipPoints = 25;
    constexpr double kShown_mm = 3.0;
    for (int i = 0; i < kLipPoints; ++i) {
        const double x = -view.tissue.gap_mm - kShown_mm * (1.0 - i / (kLipPoints - 1.0));
        view.donor_front.push_back(section.everted({x, 0.0}));
        view.donor_back.push_back(section.everted({x, -view.tissue.donor_thickness_mm}));
    }
    return view;
}

Point BiteInHand::push_mN() const {
    if (!section_ || approaching_) return {};
    const Point d = direction();
    const double force = section_->donor_push_mN();
    return {force * d.x, force * d.y};
}

Point BiteInHand::tip_in_field(const DonorPose& donor) const {
    const BitePlane plane = this->plane(donor);
    const Point d = direction();
    const double x = section_->pose().at(section_->needle()).x;  // from the host's edge
    return {plane.host_edge.x + x * d.x, plane.host_edge.y + x * d.y};
}

std::optional<Bite> BiteInHand::bite(const DonorPose& donor) const {
    if (!section_ || !donor_crossing_ || !section_->host_pass().complete) return std::nullopt;
    const PassResult &in_donor = section_->donor_pass(), &in_host = section_->host_pass();
    const Point d = direction();
    const auto radial_and_sideways = [&](double deg) {
        const Point r = heading(deg), t{-r.y, r.x};
        return Point{dot(d, r), dot(d, t)};
    };
    Bite bite;
    const Point donor_edge = donor.to_field(*donor_crossing_);
    const Point host_edge = edge_crossing(donor_edge, {}, -kLipInset_mm);
    bite.graft_deg = angle_deg(*donor_crossing_);
    bite.host_deg = angle_deg(host_edge);
    const Point on_donor = radial_and_sideways(angle_deg(minus(donor_edge, {donor.x, donor.y})));
    const Point on_host = radial_and_sideways(bite.host_deg);
    bite.graft_bite_mm = in_donor.bite_mm * on_donor.x;
    bite.graft_skew_mm = -in_donor.bite_mm * on_donor.y;
    bite.host_bite_mm = in_host.bite_mm * on_host.x;
    bite.host_skew_mm = in_host.bite_mm * on_host.y;
    bite.graft_depth_um = in_donor.through_back ? scenario_->graft.thickness_um : in_donor.depth_um;
    bite.host_depth_um = in_host.through_back ? scenario_->eye.rim_thickness_um : in_host.depth_um;
    bite.graft_entry_deg = in_donor.surface_deg;
    bite.host_exit_deg = in_host.surface_deg;
    return bite;
}

}  // namespace graftwright
