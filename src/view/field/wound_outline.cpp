#include "view/field/wound_outline.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "base/units.h"

namespace graftwright {
namespace {

constexpr double kPlay_mm = 0.08;        // a donor that lies loose in its bed shows about so much black around
constexpr double kHeld_rad = 0.45;       // a bite holds the edges together about so far to each side
constexpr double kCloses_mN = 6.0;       // and a thread drawn so far closes a loose wound (for the picture only)
constexpr double kLiftWidth_rad = 0.30;  // forceps lift about so much of the lip to each side

bool solved(const Snapshot& snapshot) {
    return snapshot.wound && snapshot.wound->converged && !snapshot.wound->rigid &&
           snapshot.wound->gap_front_um.size() > 2;
}

}  // namespace

WoundOutline::WoundOutline(const Snapshot& snapshot) : snapshot_(snapshot) {
    if (snapshot.scenario) {
        const Eye& eye = snapshot.scenario->eye;
        const Graft& graft = snapshot.scenario->graft;
        bed_radius_ = eye.bed_diameter_mm / 2.0;
        bed_half_oval_ = eye.bed_ovality_mm / 4.0;
        bed_axis_ = rad_from_deg(eye.bed_ovality_axis_deg);
        donor_half_oval_ = graft.ovality_mm / 4.0;
        donor_oval_axis_ = rad_from_deg(graft.ovality_axis_deg) + snapshot.donor.turn;
    }
    // A donor cut larger than its bed lies in it all the same, pressed and a little domed.
    donor_radius_ = bed_radius_ - kPlay_mm;
    if (snapshot.forceps) {
        lift_ = std::clamp(snapshot.eversion_deg / kMostEversion_deg, 0.0, 1.0);
        lift_rad_ = std::atan2(snapshot.forceps_at.y - snapshot.donor.y, snapshot.forceps_at.x - snapshot.donor.x);
    }
}

double WoundOutline::host_radius_mm(double rad) const {
    return bed_radius_ + bed_half_oval_ * std::cos(2.0 * (rad - bed_axis_));
}

double WoundOutline::loose_gap(double rad) const {
    const DonorPose& pose = snapshot_.donor;
    const double donor = donor_radius_ + donor_half_oval_ * std::cos(2.0 * (rad - donor_oval_axis_)) +
                         pose.x * std::cos(rad) + pose.y * std::sin(rad);
    double gap = std::max(host_radius_mm(rad) - donor, 0.012);
    for (const LaidBite& laid : snapshot_.bites) {
        if (!laid.holds()) continue;
        const double away = turn_between_rad(std::atan2(laid.host_edge.y, laid.host_edge.x), rad) / kHeld_rad;
        const double pull = std::clamp(laid.tension_mN / kCloses_mN, 0.0, 1.0);
        gap *= 1.0 - 0.9 * pull * std::exp(-away * away);
    }
    return gap;
}

double WoundOutline::solved_gap(double rad) const {
    const std::vector<double>& gaps = snapshot_.wound->gap_front_um;
    const double n = static_cast<double>(gaps.size());
    const double place = std::fmod(rad / (2.0 * kPi) + 2.0, 1.0) * n;
    const auto i = static_cast<std::size_t>(place) % gaps.size();
    const double share = place - std::floor(place);
    const double gap = gaps[i] * (1.0 - share) + gaps[(i + 1) % gaps.size()] * share;
    return mm_from_um(std::isfinite(gap) ? std::max(gap, 0.0) : 0.0);
}

double WoundOutline::gap_mm(double rad) const {
    double gap = solved(snapshot_) ? solved_gap(rad) : loose_gap(rad);
    const double away = turn_between_rad(lift_rad_, rad) / kLiftWidth_rad;
    const double everted = rad_from_deg(lift_ * kMostEversion_deg) * std::exp(-away * away);
    if (everted > 1e-6) gap += kLipLength_mm * (1.0 - std::sin(everted) / everted);
    return gap;
}

Point WoundOutline::host_edge(double rad) const {
    const double r = host_radius_mm(rad);
    return {r * std::cos(rad), r * std::sin(rad)};
}

Point WoundOutline::donor_edge(double rad) const {
    const double r = host_radius_mm(rad) - gap_mm(rad);
    return {r * std::cos(rad), r * std::sin(rad)};
}

}  // namespace graftwright
