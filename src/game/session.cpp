#include "game/session.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace graftwright {
namespace {

constexpr double kAimStep_deg = 1.0, kAimStep_mm = 0.02, kSkewStep_deg = 1.0;
constexpr double kPitchStep_deg = 1.0, kTipStep_mm = 0.02, kEvertStep_deg = 2.0;
constexpr double kPressureStep_mmHg = 1.0;
constexpr double kFirstAim_deg = 90.0;  // 12 o'clock, where the first bite goes
constexpr double kNoticeSeconds = 5.0;

double thread_stiffness_N_per_mm(const Scenario& scenario) {
    constexpr double kUsualLoop_mm = 4.5;  // both strands of a bite of 1.1 mm a side
    const double area_mm2 = kPi / 4.0 * std::pow(mm_from_um(scenario.thread.diameter_um), 2);
    return scenario.thread.modulus_GPa * 1e3 * area_mm2 / kUsualLoop_mm;
}

}  // namespace

AfloatShape afloat_shape(const Scenario& scenario) {
    AfloatShape shape;
    shape.bed_diameter_mm = scenario.eye.bed_diameter_mm;
    shape.bed_ovality_mm = scenario.eye.bed_ovality_mm;
    shape.bed_ovality_axis_deg = scenario.eye.bed_ovality_axis_deg;
    shape.donor_diameter_mm = scenario.graft.diameter_mm;
    shape.donor_ovality_mm = scenario.graft.ovality_mm;
    shape.donor_ovality_axis_deg = scenario.graft.ovality_axis_deg;
    shape.thread_N_per_mm = thread_stiffness_N_per_mm(scenario);
    return shape;
}

Session::Session(std::shared_ptr<const ScenarioModel> model, std::unique_ptr<WoundService> service, std::string trainee,
                 std::string started)
    : model_(std::move(model)), service_(std::move(service)), donor_(afloat_shape(model_->scenario())),
      bite_(model_->scenario(), kFirstAim_deg) {
    const Scenario& scenario = model_->scenario();
    attempt_.scenario = scenario.id;
    attempt_.trainee = std::move(trainee);
    attempt_.started = std::move(started);
    for (const Bite& bite : scenario.start.bites) {
        attempt_.bites.push_back(bite);
        Laid laid;
        laid.from_start = true;
        if (!bite.removed) {
            laid.tether = donor_.tether(bite.graft_deg, bite.host_deg);
            laid.tethered = true;
        }
        laid_.push_back(laid);
    }
    take_up_runs(scenario.start.runs);
    looked_at_ = in_place() >= 4 ? 4 : in_place() >= 2 ? 2 : 0;
}

bool Session::can_step() const {
    if (stage_ == Stage::solving && debrief_asked_) return service_->ready();
    return !asked_ || tick_ + 1 < asked_->tick + kSolveTicks || service_->ready();
}

void Session::step(const std::vector<Action>& actions) {
    ++tick_;
    ask_and_adopt();
    for (const Action& action : actions) act(action);
    if (paused_ || stage_ == Stage::solving || stage_ == Stage::debrief) return;
    ++active_ticks_;
    if (in_place() < 4) ++open_ticks_;
    move_hand();
    const std::optional<double> limit = model_->scenario().task.time_limit_s;
    if (limit && active_ticks_ >= *limit * kTicksPerSecond) {
        say(open_run_.empty() ? "Time is up." : "Time is up. The run that is not tied does not count.", true);
        end();
    }
}

void Session::move_hand() {
    if (stage_ == Stage::drive_donor || stage_ == Stage::drive_host) drive();
    if (stage_ == Stage::tie) tie();
    chamber_.step(in_place(), bite_.push_mN().x != 0.0 || bite_.push_mN().y != 0.0
                                  ? std::hypot(bite_.push_mN().x, bite_.push_mN().y)
                                  : 0.0);
    donor_.step();
    if (stage_ == Stage::leak_check) chamber_.look(wound_.get());
}

void Session::act(const Action& action) {
    if (action.kind == Action::Kind::point) {
        pointer_ = action.at;
        if (stage_ == Stage::aim) bite_.aim_at(pointer_, donor_.pose());
        return;
    }
    if (action.kind == Action::Kind::command && action.command == Command::pause) {
        paused_ = !paused_;
        return;
    }
    if (paused_ || stage_ == Stage::solving || stage_ == Stage::debrief) {
        if (action.command == Command::twin) twin_ = !twin_;
        return;
    }
    if (action.kind == Action::Kind::carry) {
        if (!donor_.held()) return;
        const Point now = donor_.hold_point();
        donor_.move_hold({now.x + action.at.x, now.y + action.at.y});
        return;
    }
    if (action.kind == Action::Kind::forceps) {
        use_forceps(action.at);
        if (stage_ == Stage::approach_donor || stage_ == Stage::approach_host) bite_.set_eversion(eversion_deg_);
        return;
    }
    if (action.kind == Action::Kind::select && stage_ != Stage::answer) {
        select_near(action.at);
        return;
    }
    act_anywhere(action);
    switch (stage_) {
    case Stage::aim: act_in_aim(action); break;
    case Stage::approach_donor:
    case Stage::approach_host: act_in_approach(action); break;
    case Stage::drive_donor:
    case Stage::drive_host: act_in_drive(action); break;
    case Stage::tie: act_in_tie(action); break;
    case Stage::bury: act_in_bury(action); break;
    case Stage::look:
    case Stage::ring_check:
    case Stage::leak_check: act_in_check(action); break;
    case Stage::answer: act_in_answer(action); break;
    case Stage::solving:
    case Stage::debrief: break;
    }
}

void Session::act_anywhere(const Action& action) {
    switch (action.command) {
    case Command::fine: fine_ = !fine_; break;
    case Command::twin: twin_ = !twin_; break;
    case Command::forceps: use_forceps(std::nullopt); break;
    case Command::evert_more:
    case Command::evert_less:
        if (!donor_.held()) {
            say("Hold the lip with the forceps first.", true);
        } else {
            const double sense = action.command == Command::evert_more ? 1.0 : -1.0;
            eversion_deg_ = std::clamp(eversion_deg_ + sense * action.amount * kEvertStep_deg, 0.0, kMostEversion_deg);
        }
        break;
    default: break;
    }
}

void Session::use_forceps(std::optional<Point> at) {
    if (donor_.held()) {
        donor_.let_go();
        eversion_deg_ = 0.0;
        return;
    }
    if (!at) {
        // By key: the lip, beside the bite that is aimed at.
        constexpr double kInward_mm = 0.25, kBeside_deg = 12.0;
        const BitePlane plane = bite_.plane(donor_.pose());
        const DonorPose pose = donor_.pose();
        const double deg = deg_from_rad(std::atan2(plane.donor_edge.y - pose.y, plane.donor_edge.x - pose.x)) + kBeside_deg;
        const double radius = bed_radius_mm(model_->scenario(), deg) - kInward_mm;
        at = Point{pose.x + radius * std::cos(rad_from_deg(deg)), pose.y + radius * std::sin(rad_from_deg(deg))};
    }
    if (!donor_.hold(*at)) say("No donor under the forceps.", true);
}

void Session::select_near(Point field) {
    double nearest = 1e9;
    for (std::size_t b = 0; b < bites_laid(); ++b) {
        const LaidBite laid = laid_bite(b);
        if (laid.bite.removed) continue;
        const double distance = std::hypot(laid.exit.x - field.x, laid.exit.y - field.y);
        if (distance >= nearest) continue;
        nearest = distance;
        selected_ = b;
    }
}

void Session::act_in_aim(const Action& action) {
    const DonorPose pose = donor_.pose();
    switch (action.command) {
    case Command::left: bite_.aim_by(action.amount * kAimStep_deg, 0.0, pose); break;
    case Command::right: bite_.aim_by(-action.amount * kAimStep_deg, 0.0, pose); break;
    case Command::up: bite_.aim_by(0.0, action.amount * kAimStep_mm, pose); break;
    case Command::down: bite_.aim_by(0.0, -action.amount * kAimStep_mm, pose); break;
    case Command::skew_more: bite_.skew_by(action.amount * kSkewStep_deg); break;
    case Command::skew_less: bite_.skew_by(-action.amount * kSkewStep_deg); break;
    case Command::primary:
        if (!may_set_needle_down()) break;
        drive_trauma_uJ_ = 0.0;
        bite_.approach_donor(pose, gap_at(bite_.aim_deg()), eversion_deg_);
        go(Stage::approach_donor);
        break;
    case Command::next_bite:
    case Command::previous_bite:
        if (bites_laid() > 0) {
            const std::size_t n = bites_laid();
            const std::size_t step = action.command == Command::next_bite ? 1 : n - 1;
            selected_ = selected_ ? (*selected_ + step) % n : n - 1;
        }
        break;
    case Command::cut_out: cut_out_selected(); break;
    case Command::running_thread: switch_running_thread(); break;
    case Command::tie_run: begin_run_knot(); break;
    case Command::back:
        if (!open_run_.empty()) draw_run_bite_back();
        break;
    case Command::undo: undo(); break;
    case Command::refill:
        chamber_.refill();
        say("The chamber is deep again.");
        break;
    case Command::ring_check:
        back_to_ = stage_;
        go(Stage::ring_check);
        note("ring_check");
        break;
    case Command::leak_check:
        back_to_ = stage_;
        chamber_.begin_check();
        go(Stage::leak_check);
        note("leak_check");
        break;
    case Command::finish: finish(); break;
    default: break;
    }
}

void Session::act_in_approach(const Action& action) {
    const bool on_host = stage_ == Stage::approach_host;
    if (action.kind == Action::Kind::drag) {
        bite_.shift_tip_by(action.at.x, -action.at.y);
        return;
    }
    switch (action.command) {
    case Command::up: bite_.pitch_by(-action.amount * kPitchStep_deg); break;
    case Command::down: bite_.pitch_by(action.amount * kPitchStep_deg); break;
    case Command::left:
        on_host ? bite_.shift_tip_by(0.0, action.amount * kTipStep_mm)
                : bite_.shift_tip_by(-action.amount * kTipStep_mm, 0.0);
        break;
    case Command::right:
        on_host ? bite_.shift_tip_by(0.0, -action.amount * kTipStep_mm)
                : bite_.shift_tip_by(action.amount * kTipStep_mm, 0.0);
        break;
    case Command::tip_deeper: bite_.shift_tip_by(0.0, action.amount * kTipStep_mm); break;
    case Command::tip_higher: bite_.shift_tip_by(0.0, -action.amount * kTipStep_mm); break;
    case Command::primary: go(on_host ? Stage::drive_host : Stage::drive_donor); break;
    case Command::evert_more:
    case Command::evert_less:
    case Command::forceps:
        bite_.set_eversion(eversion_deg_);
        break;
    case Command::back:
        if (on_host) {
            lose_bite("abandoned", "The needle is taken back out; the bite is given up.");
        } else {
            bite_.give_up();
            go(Stage::aim);
        }
        break;
    default: break;
    }
}

void Session::act_in_check(const Action& action) {
    if (stage_ == Stage::look) {
        if (action.command == Command::primary) go(Stage::aim);
        if (action.command == Command::cut_out) {
            selected_ = attempt_.bites.size() - 1;
            cut_out_selected();
            go(Stage::aim);
        }
        return;
    }
    const double pressure = chamber_.view().pressure_mmHg;
    switch (action.command) {
    case Command::back:
    case Command::primary: go(back_to_); break;
    case Command::ring_check:
        if (stage_ == Stage::ring_check) go(back_to_);
        break;
    case Command::leak_check:
        if (stage_ == Stage::leak_check) go(back_to_);
        break;
    case Command::wash: chamber_.wash(); break;
    case Command::sweep: chamber_.sweep(); break;
    case Command::dry: chamber_.dry(); break;
    case Command::stain: chamber_.stain(); break;
    case Command::refill: chamber_.refill(); break;
    case Command::up:
    case Command::raise_pressure:
        if (wound_ && wound_->rigid)
            say("So few bites hold no pressure: saline runs out as fast as it comes.", true);
        else
            chamber_.set_pressure(pressure + action.amount * kPressureStep_mmHg);
        break;
    case Command::down:
    case Command::lower_pressure: chamber_.set_pressure(pressure - action.amount * kPressureStep_mmHg); break;
    default: break;
    }
}

void Session::go(Stage stage) { stage_ = stage; }

void Session::say(std::string words, bool warning) {
    notice_ = std::move(words);
    warning_ = warning;
    notice_until_ = tick_ + static_cast<int>(kNoticeSeconds * kTicksPerSecond);
}

void Session::record(Event event) { attempt_.events.push_back(std::move(event)); }

void Session::note(const char* what, const std::string& detail_json) {
    record({static_cast<double>(active_ticks_) / kTicksPerSecond, what, detail_json});
}

void Session::end() {
    if (in_place() == 0) {
        say("Nothing is tied yet.", true);
        return;
    }
    go(Stage::solving);
}

}  // namespace graftwright
