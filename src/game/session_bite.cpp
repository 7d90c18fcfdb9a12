// The hand's part of a session: drive, tie, bury.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "game/session.h"

namespace graftwright {
namespace {

constexpr double kTurnStep_deg = 0.5, kPushStep_mm = 0.02, kPullStep_mN = 1.0;
constexpr double kDragTurn_deg_per_mm = 20.0;  // 0.1° a design pixel at 200 px/mm: the wheel's fine step
constexpr double kDragPull_mN_per_mm = 50.0;   // 0.25 mN a design pixel
constexpr double kHandPulls_mN = 100.0;        // most that fingers put on hair-fine thread (our choice)
constexpr double kTraumaUnit_uJ = 5.0;         // one "trauma" event for each so much work (our choice)
constexpr std::size_t kMostThrows = 8;

}  // namespace

void Session::act_in_drive(const Action& action) {
    if (action.kind == Action::Kind::drag) {
        bite_.turn_by(kDragTurn_deg_per_mm * (action.at.x + action.at.y));
        return;
    }
    const double turn = action.amount * kTurnStep_deg, push = action.amount * kPushStep_mm;
    switch (action.command) {
    case Command::right:
    case Command::turn_forward: bite_.turn_by(turn); break;
    case Command::left:
    case Command::turn_back: bite_.turn_by(-turn); break;
    case Command::push_out: bite_.shift_by({push, 0.0}); break;
    case Command::push_in: bite_.shift_by({-push, 0.0}); break;
    case Command::up: bite_.shift_by({0.0, push}); break;
    case Command::down: bite_.shift_by({0.0, -push}); break;
    case Command::back: bite_.back_out(); break;
    case Command::primary: pull_through(); break;
    default: break;
    }
}

void Session::pull_through() {
    const SectionDrive& section = *bite_.section();
    if (stage_ == Stage::drive_donor) {
        if (section.donor_pass().complete && !section.in_chamber()) {
            bite_.approach_host(donor_.pose());
            go(Stage::approach_host);
        } else {
            say("Drive on until the tip stands in the wound.", true);
        }
        return;
    }
    const std::optional<Bite> bite = bite_.bite(donor_.pose());
    if (!bite) {
        say("Drive on until the tip comes out of the host.", true);
        return;
    }
    const BitePlane plane = bite_.plane(donor_.pose());
    if (section.host_pass().bite_mm > host_reach_mm(model_->scenario(), plane.host_edge, plane.direction_deg)) {
        say("The needle has come out beyond the limbus: back it out.", true);
        return;
    }
    const auto in_range = [](double length_mm) { return length_mm >= 0.2 && length_mm <= 3.0; };  // as files allow
    if (!in_range(bite->graft_bite_mm) || !in_range(bite->host_bite_mm)) {
        say("So short or long a bite holds no thread: back it out.", true);
        return;
    }
    const Scenario& scenario = model_->scenario();
    note("driven", fmt::format(R"({{"host_deg":{:.2f},"graft_deg":{:.2f},"trauma_uJ":{:.3f}}})", bite->host_deg,
                               bite->graft_deg, section.trauma_uJ()));
    if (bite->graft_depth_um >= scenario.graft.thickness_um || bite->host_depth_um >= scenario.eye.rim_thickness_um)
        say("This bite goes through into the chamber: a leak track of its own.", true);
    if (running_) {
        lay_run_bite(*bite);
        return;
    }
    tying_ = *bite;
    knot_limits_ = limits_of({*bite});
    knot_.emplace(knot_limits_);
    hand_mN_ = 0.0;
    next_turns_ = 3;
    go(Stage::tie);
}

Point Session::tremor() const {
    // Two slow sines of no common period stand for physiological tremor, 8–12 Hz (from memory).
    const double amplitude = mm_from_um(model_->scenario().task.hand.tremor_um);
    if (amplitude == 0.0) return {};
    const auto at = [&](int tick, double hz, double phase) {
        return amplitude * std::sin(2.0 * kPi * hz * tick / kTicksPerSecond + phase);
    };
    const auto phase = static_cast<double>(bites_laid());
    return {at(tick_, 8.7, phase) - at(tick_ - 1, 8.7, phase), at(tick_, 11.3, 2.0 * phase) - at(tick_ - 1, 11.3, 2.0 * phase)};
}

void Session::drive() {
    const std::vector<DriveEvent> events = bite_.step(eversion_deg_, tremor(), donor_.pose());
    const Point push = bite_.push_mN();
    if (push.x != 0.0 || push.y != 0.0) donor_.push(bite_.tip_in_field(donor_.pose()), push);
    const double before = drive_trauma_uJ_;
    drive_trauma_uJ_ = std::max(before, bite_.section()->trauma_uJ());
    count_trauma(trauma_uJ_, trauma_uJ_ + drive_trauma_uJ_ - before);
    for (const DriveEvent event : events) heed(event);
}

void Session::count_trauma(double before_uJ, double after_uJ) {
    trauma_uJ_ = after_uJ;
    if (std::floor(after_uJ / kTraumaUnit_uJ) > std::floor(before_uJ / kTraumaUnit_uJ)) {
        note("trauma", fmt::format(R"({{"total_uJ":{:.2f}}})", after_uJ));
        say("The needle is dragging the tissue: turn it along its own curve.", true);
    }
}

void Session::heed(DriveEvent event) {
    switch (event) {
    case DriveEvent::entered_front: break;
    case DriveEvent::left_face:
        if (bite_.section()->donor_pass().complete)
            say(fmt::format("The tip stands in the wound, {:.0f} % deep: re-grasp.",
                            100.0 * bite_.section()->donor_pass().depth_um / model_->scenario().graft.thickness_um));
        break;
    case DriveEvent::entered_face: break;
    case DriveEvent::left_front: say("Out of the host: pull the needle through."); break;
    case DriveEvent::through_back:
        say("Through the back: the needle is in the chamber. Back it out.", true);
        note("through_back");
        if (chamber_.shallow()) {
            ++iris_caught_;
            note("iris_caught");
            say("The chamber is shallow: the needle has taken iris.", true);
        }
        break;
    case DriveEvent::back_in_tissue: break;
    case DriveEvent::withdrawn:
        say("The needle is out again.");
        if (stage_ == Stage::drive_host) {
            bite_.approach_host(donor_.pose());
            go(Stage::approach_host);
        } else {
            bite_.give_up();
            go(Stage::aim);
        }
        break;
    }
    if (event == DriveEvent::entered_front && chamber_.shallow()) {
        ++endothelial_touches_;
        note("endothelial_touch");
        say("The chamber is flat: the donor rubs its endothelium. Refill it.", true);
    }
}

void Session::act_in_tie(const Action& action) {
    const auto pull_to = [this](double mN) {
        hand_mN_ = std::clamp(mN, 0.0, kHandPulls_mN);
        knot_->pull(hand_mN_);
    };
    if (action.kind == Action::Kind::drag) {
        pull_to(hand_mN_ + kDragPull_mN_per_mm * (action.at.x + action.at.y));
        return;
    }
    switch (action.command) {
    case Command::up:
    case Command::right:
    case Command::tighter: pull_to(hand_mN_ + action.amount * kPullStep_mN); break;
    case Command::down:
    case Command::left:
    case Command::looser: pull_to(hand_mN_ - action.amount * kPullStep_mN); break;
    case Command::let_go: pull_to(0.0); break;
    case Command::turns_more: next_turns_ = std::min(4, next_turns_ + 1); break;
    case Command::turns_less: next_turns_ = std::max(1, next_turns_ - 1); break;
    case Command::throw_clockwise: lay_throw(true); break;
    case Command::throw_counter: lay_throw(false); break;
    case Command::primary:
        // A square knot of three throws, then the ends are cut short.
        if (knot_->throws().size() < 3 || !knot_->locked())
            lay_throw(knot_->throws().empty() || !knot_->throws().back().clockwise);
        else
            go(Stage::bury);
        break;
    case Command::work_round:
        if (tying_run_) work_slack_round();
        break;
    case Command::back:
        if (tying_run_)
            open_run_again();
        else
            lose_bite("abandoned", "The thread is pulled out; the bite is given up.");
        break;
    default: break;
    }
}

void Session::lay_throw(bool clockwise) {
    if (knot_->throws().size() >= kMostThrows) {
        say("No more throws: this knot is big enough to show.", true);
        return;
    }
    knot_->lay({next_turns_, clockwise});
    next_turns_ = 1;
    if (knot_->locked())
        say(knot_->square() ? "Square: the knot holds." : "Locked, but a same-way throw lies in it.");
    else if (knot_->kind() == KnotKind::sliding)
        say("A same-way throw: it slides. Set the tension, then reverse one.");
}

void Session::tie() {
    knot_->step();
    if (tying_run_) {
        draw_run_together();
    } else {
        const BitePlane plane = bite_.plane(donor_.pose());
        draw_together(plane.donor_edge, plane.host_edge);
        tying_->tension_mN = knot_->loop_mN();
        if (!knot_->throws().empty()) tying_->throws = knot_->throws_text();
    }
    heed_knot();
}

// The thread in hand draws two edges together.
void Session::draw_together(Point donor_edge, Point host_edge) {
    const double dx = host_edge.x - donor_edge.x, dy = host_edge.y - donor_edge.y;
    const double distance = std::hypot(dx, dy);
    if (distance > 2.0 * kOpenGap_mm)
        donor_.push(donor_edge, {knot_->loop_mN() * dx / distance, knot_->loop_mN() * dy / distance});
}

void Session::heed_knot() {
    const auto lose = [this](const char* what, const char* bite, const char* run) {
        if (tying_run_)
            lose_run(what, run);
        else
            lose_bite(what, bite);
    };
    if (knot_->broken()) {
        lose("thread_broke", "The thread has broken.", "The thread has broken: the whole run is lost.");
    } else if (knot_->torn_out()) {
        note("trauma");
        lose("tore_out", "The thread has cut through the tissue and torn out.",
             "The thread has torn out of the tissue: the whole run is lost.");
    } else if (knot_->cut_mm() > 0.0) {
        say("The thread is cutting into the tissue.", true);
    }
}

// The thread has cut toward the wound: the bite is shorter by so much.
void Session::shorten(BitePath& bite, double cut_mm) {
    double& weaker = bite.graft_bite_mm < bite.host_bite_mm ? bite.graft_bite_mm : bite.host_bite_mm;
    weaker = std::max(0.2, weaker - cut_mm);
}

void Session::act_in_bury(const Action& action) {
    const bool in_host = action.command == Command::bury_host || action.command == Command::primary;
    if (!in_host && action.command != Command::bury_donor) return;
    if (tying_run_)
        finish_run(in_host);
    else
        finish_bite(in_host);
}

void Session::finish_bite(bool in_host) {
    remember();
    Bite bite = *tying_;
    shorten(bite, knot_->cut_mm());
    attempt_.bites.push_back(bite);
    Laid laid;
    laid.tether = donor_.tether(bite.graft_deg, bite.host_deg);
    laid.tethered = true;
    laid.buried_in_host = in_host;
    laid_.push_back(laid);
    selected_ = attempt_.bites.size() - 1;
    note("tied", fmt::format(R"({{"bite":{},"tension_mN":{:.3f},"buried":"{}"}})", attempt_.bites.size(),
                             bite.tension_mN, in_host ? "host" : "donor"));
    tying_.reset();
    knot_.reset();
    bite_.give_up();
    const auto count = static_cast<int>(in_place());
    if ((count == 2 || count == 4) && looked_at_ < count) {
        looked_at_ = count;
        go(Stage::look);
    } else {
        go(Stage::aim);
    }
}

void Session::lose_bite(const char* what, const std::string& words) {
    note(what);
    say(words, true);
    tying_.reset();
    knot_.reset();
    bite_.give_up();
    go(Stage::aim);
}

}  // namespace graftwright
