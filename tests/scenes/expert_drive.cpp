#include "expert_drive.h"

#include <algorithm>
#include <cmath>

#include "hand/lip.h"

namespace graftwright::scenes {
namespace {

constexpr double kApproach_deg = 1.0;  // of turn before the surface: 45 µm
constexpr double kClear_mm = 0.04;     // of either wound face, with the tip in the gap …
constexpr double kClearShare = 0.4;    // … but no more than this share of it

// The drive of a needle from `start` to `end`, begun and ended so many degrees of turn further out.
ExpertStroke through(const Needle& needle, Point start, Point end, double before_deg, double after_deg,
                     const ExpertAim& aim) {
    const double dx = end.x - start.x, dy = end.y - start.y;
    const double half = std::asin(std::hypot(dx, dy) / (2.0 * needle.radius_mm()));
    const double pitch_deg = deg_from_rad(std::atan2(-dy, dx) + half);
    NeedlePose pose = needle_at(needle, start, pitch_deg);
    pose.tip_rad -= rad_from_deg(before_deg);
    const double turn_deg = before_deg + deg_from_rad(2.0 * half) + after_deg;
    ExpertStroke stroke;
    stroke.tip = pose.at(needle);
    stroke.pitch_deg = pose.pitch_deg();
    stroke.ticks = static_cast<int>(std::ceil(turn_deg / aim.turn_deg_per_tick));
    stroke.turn_deg_per_tick = turn_deg / stroke.ticks;
    return stroke;
}

}  // namespace

ExpertBite expert_bite(const Needle& needle, const SectionTissue& tissue, const ExpertAim& aim) {
    const Lip lip{-tissue.gap_mm, tissue.donor_thickness_mm, rad_from_deg(aim.eversion_deg)};
    const double clear_deg = deg_from_rad(std::min(kClear_mm, kClearShare * tissue.gap_mm) / needle.radius_mm());
    const Point entry = lip.everted({-tissue.gap_mm - aim.donor_bite_mm, 0.0});
    const Point donor_face = lip.everted({-tissue.gap_mm, -aim.depth_fraction * tissue.donor_thickness_mm});
    ExpertBite bite;
    bite.donor = through(needle, entry, donor_face, kApproach_deg, clear_deg, aim);
    bite.donor.eversion_deg = aim.eversion_deg;
    const Point host_face{0.0, -aim.depth_fraction * tissue.rim_thickness_mm};
    bite.host = through(needle, host_face, {aim.host_bite_mm, 0.0}, clear_deg, kApproach_deg, aim);
    return bite;
}

void play(SectionDrive& drive, const ExpertStroke& stroke) {
    drive.place(needle_at(drive.needle(), stroke.tip, stroke.pitch_deg));
    HandTick hand;
    hand.eversion_deg = stroke.eversion_deg;
    while (drive.eversion_deg() != stroke.eversion_deg) drive.step(hand);
    hand.turn_deg = stroke.turn_deg_per_tick;
    for (int i = 0; i < stroke.ticks; ++i) drive.step(hand);
}

}  // namespace graftwright::scenes
