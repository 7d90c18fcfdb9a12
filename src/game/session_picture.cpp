// What a session shows: questions to the wound, and the snapshot.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "game/session.h"

namespace graftwright {
namespace {

Point polar(double radius, double deg) {
    return {radius * std::cos(rad_from_deg(deg)), radius * std::sin(rad_from_deg(deg))};
}

bool same_question(const WoundQuestion& a, const WoundQuestion& b) {
    return a.bites == b.bites && a.runs == b.runs && a.pressure_mmHg == b.pressure_mmHg && a.map == b.map;
}

}  // namespace

bool Snapshot::aid(std::string_view name) const {
    const std::vector<std::string>& aids = scenario->task.hand.aids;
    return std::find(aids.begin(), aids.end(), name) != aids.end();
}

int Snapshot::bites_in_place() const {
    return static_cast<int>(
        std::count_if(bites.begin(), bites.end(), [](const LaidBite& laid) { return !laid.bite.removed && !laid.slack; }));
}

WoundQuestion Session::question() const {
    WoundQuestion question;
    question.tick = tick_;
    question.bites = attempt_.bites;
    question.runs = attempt_.runs;
    if (tying_run_)
        question.runs.push_back(*tying_run_);
    else if (stage_ == Stage::tie || stage_ == Stage::bury)
        question.bites.push_back(*tying_);
    if (stage_ == Stage::ring_check) {
        question.pressure_mmHg = model_->scenario().eye.pressure_mmHg;
        question.map = true;
    }
    if (stage_ == Stage::answer) question.pressure_mmHg = model_->scenario().eye.pressure_mmHg;
    if (stage_ == Stage::leak_check) question.pressure_mmHg = chamber_.view().pressure_mmHg;
    return question;
}

void Session::ask_and_adopt() {
    if (asked_ && tick_ >= asked_->tick + kSolveTicks) {
        wound_ = service_->take();
        shown_ = std::move(asked_);
        asked_.reset();
    }
    if (asked_) return;
    if (stage_ == Stage::solving) {
        if (!debrief_asked_) {
            service_->ask_debrief(attempt_);
            debrief_asked_ = true;
        } else if (service_->ready()) {
            debrief_ = service_->take_debrief();
            go(Stage::debrief);
        }
        return;
    }
    if (stage_ == Stage::debrief) return;
    WoundQuestion now = question();
    if (shown_ && same_question(*shown_, now)) return;
    service_->ask(now);
    asked_ = std::move(now);
}

double Session::gap_at(double deg) const {
    if (!wound_ || !wound_->converged || wound_->gap_front_um.empty()) return kOpenGap_mm;
    const auto n = static_cast<double>(wound_->gap_front_um.size());
    const auto j = static_cast<std::size_t>(std::fmod(std::round(deg / 360.0 * n) + n, n));
    return mm_from_um(std::clamp(wound_->gap_front_um[j], 0.0, 300.0));
}

// Where a bite lies in the field now.
LaidBite Session::laid_as(const Bite& bite) const {
    LaidBite laid;
    const DonorPose pose = donor_.pose();
    laid.bite = bite;
    const double half_gap = 0.5 * kOpenGap_mm * (in_place() >= 4 ? 0.3 : 1.0);
    const auto on_donor = [&](double inward, double sideways) {
        const double radius = bed_radius_mm(model_->scenario(), bite.graft_deg) - half_gap - inward;
        const Point at = polar(radius, bite.graft_deg), t = polar(sideways, bite.graft_deg + 90.0);
        return pose.to_field({at.x + t.x, at.y + t.y});
    };
    const auto on_host = [&](double outward, double sideways) {
        const Point at = polar(bed_radius_mm(model_->scenario(), bite.host_deg) + half_gap + outward, bite.host_deg);
        const Point t = polar(sideways, bite.host_deg + 90.0);
        return Point{at.x + t.x, at.y + t.y};
    };
    laid.entry = on_donor(bite.graft_bite_mm, bite.graft_skew_mm);
    laid.donor_edge = on_donor(0.0, 0.0);
    laid.host_edge = on_host(0.0, 0.0);
    laid.exit = on_host(bite.host_bite_mm, bite.host_skew_mm);
    laid.tension_mN = bite.tension_mN;
    return laid;
}

LaidBite Session::laid_bite(std::size_t b) const {
    const BitePlace place = place_of(b);
    if (place.in != BitePlace::In::single) return laid_run_bite(place);
    const Bite& bite = attempt_.bites[b];
    LaidBite laid = laid_as(bite);
    laid.buried_in_host = laid_[b].buried_in_host;
    laid.from_start = laid_[b].from_start;
    const bool known = wound_ && wound_->converged && b < wound_->tension_mN.size();
    laid.tension_mN = known ? wound_->tension_mN[b] : bite.tension_mN;
    laid.loose = laid.tension_mN < kLoose_mN;
    return laid;
}

std::string Session::prompt() const {
    switch (stage_) {
    case Stage::aim:
        return aim_prompt();
    case Stage::approach_donor: return "Steepen the needle and lift the lip, then drive.";
    case Stage::drive_donor: return "Turn the wrist until the tip stands in the wound; then re-grasp.";
    case Stage::approach_host: return "Set the tip on the host's wound face at the donor's depth, then drive.";
    case Stage::drive_host: return "Turn the tip up and out of the host, then pull it through.";
    case Stage::tie:
        if (tying_run_ && knot_->throws().empty())
            return "Wind the first throw, draw the ends, and work the slack round the wound.";
        if (tying_run_ && !knot_->locked() && *tying_run_->worked_mN == 0.0)
            return "Draw the ends, then work the slack round: friction keeps a pull from the far side.";
        if (tying_run_ && !knot_->locked())
            return "Worked round. Ease the ends until the knot's span is no tighter than the rest, then reverse a throw.";
        if (knot_->throws().empty()) return "Wind the first throw, then draw the ends to their tension.";
        if (!knot_->locked()) return "Draw to the tension you want and reverse the next throw to lock it.";
        return knot_->throws().size() < 3 ? "Locked. One more reversed throw, then cut the ends short."
                                          : "Cut the ends short.";
    case Stage::bury: return "Turn the knot into the stroma: to the donor's side or the host's.";
    case Stage::look:
        return "Look: is there as much donor on the left as on the right? Go on, or cut the last bite out and redo it.";
    case Stage::ring_check: return "Read the rings: narrow where the cornea is steep.";
    case Stage::leak_check: return "Wash to saline, sweep, dry, stain, then raise the pressure and watch the wound.";
    case Stage::answer: return asking_->step().words;
    case Stage::solving: return "Working out what each bite did …";
    case Stage::debrief: return "";
    }
    return "";
}

Snapshot Session::snapshot() const {
    Snapshot shot;
    shot.scenario = std::shared_ptr<const Scenario>(model_, &model_->scenario());
    shot.stage = stage_;
    shot.tick = tick_;
    shot.time_s = static_cast<double>(active_ticks_) / kTicksPerSecond;
    shot.open_s = static_cast<double>(open_ticks_) / kTicksPerSecond;
    shot.paused = paused_;
    shot.fine = fine_;
    shot.twin = twin_;
    shot.prompt = prompt();
    if (tick_ < notice_until_) {
        shot.notice = notice_;
        shot.warning = warning_;
    }
    shot.donor = donor_.pose();
    shot.forceps = donor_.held();
    if (shot.forceps) shot.forceps_at = donor_.hold_point();
    shot.eversion_deg = eversion_deg_;
    shot.viscoelastic = chamber_.viscoelastic();
    shot.iris_in_wound = iris_caught_ > 0 && !chamber_.view().swept;
    shot.pointer = pointer_;
    for (std::size_t b = 0; b < bites_laid(); ++b) shot.bites.push_back(laid_bite(b));
    shot.spans = laid_spans();
    shot.running = running_;
    shot.bites_counted = bites_counted();
    if (tying_) shot.bites.push_back(laid_as(*tying_));  // the one in hand, last
    shot.selected = selected_;
    shot.bites_asked = model_->scenario().task.bites;
    if (stage_ == Stage::aim || bite_.section() != nullptr) shot.plane = bite_.plane(donor_.pose());
    if (bite_.section() != nullptr) shot.section = bite_.view();
    if (knot_) {
        TieView tie;
        tie.loop_mN = knot_->loop_mN();
        tie.hand_mN = knot_->hand_mN();
        tie.cut_limit_mN = knot_limits_.cut_mN;
        tie.break_limit_mN = knot_limits_.break_mN;
        if (tying_run_) tie.worked_mN = *tying_run_->worked_mN;
        tie.next_turns = next_turns_;
        tie.kind = knot_->kind();
        tie.square = knot_->square();
        tie.broken = knot_->broken();
        tie.cut_mm = knot_->cut_mm();
        tie.throws = knot_->throws();
        shot.tie = tie;
    }
    if (stage_ == Stage::leak_check) shot.leak = chamber_.view();
    if (stage_ == Stage::answer) shot.question = asking_->view(choice_places());
    shot.trauma_uJ = trauma_uJ_;
    shot.iris_caught = iris_caught_;
    shot.endothelial_touches = endothelial_touches_;
    shot.wound = wound_;
    shot.wound_is_old = asked_ && shown_ && tick_ - shown_->tick > kOldPictureTicks;
    shot.debrief = debrief_;
    return shot;
}

}  // namespace graftwright
