#include "robot_hand.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/units.h"
#include "game/bite_in_hand.h"

namespace graftwright::scenes {
namespace {

constexpr double kSetBack = 0.05;      // what the lock loses (hand/knot_in_hand.cpp)
constexpr double kHoverRun_mm = 0.06;  // along the surface while the needle comes down from its hover
constexpr int kSettle = 24;            // ticks for a hand to see what came of it

// Heading (deg below the horizontal) at the start of the needle's arc from one point to another, and the turn.
struct Arc {
    double pitch_deg, turn_deg;
};
Arc arc_between(const Needle& needle, Point start, Point end) {
    const double dx = end.x - start.x, dy = end.y - start.y;
    const double half = std::asin(std::min(1.0, std::hypot(dx, dy) / (2.0 * needle.radius_mm())));
    return {deg_from_rad(std::atan2(-dy, dx) + half), deg_from_rad(2.0 * half)};
}

// A pointer stands on pixels: quarters of a design pixel on a large screen.
Point on_pixels(Point canvas) { return {std::round(4.0 * canvas.x) / 4.0, std::round(4.0 * canvas.y) / 4.0}; }

}  // namespace

void RobotHand::tick(const std::vector<Input>& inputs) { game_->step(inputs); }

void RobotHand::wait(int ticks) {
    for (int i = 0; i < ticks; ++i) tick({});
}

int RobotHand::strayed(double count) {
    const int meant = static_cast<int>(std::round(count));
    if (!noise_ || meant == 0) return meant;
    const auto span = static_cast<std::uint64_t>(2 * noise_->notches + 1);
    return std::max(0, meant + static_cast<int>(random_.below(span)) - noise_->notches);
}

Point RobotHand::strayed(Point canvas) {
    if (!noise_) return on_pixels(canvas);
    const auto off = [&] { return noise_->jitter_px * (2.0 * random_.uniform() - 1.0); };
    const double dx = off(), dy = off();
    return on_pixels({canvas.x + dx, canvas.y + dy});
}

void RobotHand::late() {
    if (noise_) wait(noise_->delay_ticks);
}

void RobotHand::steps(Command command, double count) { ask(command, strayed(count)); }

void RobotHand::click(Point wanted, int button) {
    using Kind = HandDoes;
    const Point canvas = strayed(wanted);
    tick({{Kind::move, canvas.x, canvas.y, 0, 0.0, ""}});
    tick({{Kind::press, canvas.x, canvas.y, button, 0.0, ""}});
    tick({{Kind::release, canvas.x, canvas.y, button, 0.0, ""}});
}

void RobotHand::ask(Command command, int times) {
    late();
    for (int i = 0; i < times; ++i) {
        if (device_ == Device::keyboard) {
            tick({{HandDoes::key, 0.0, 0.0, 0, 0.0, KeyBindings().key_of(command)}});
            tick({});
            continue;
        }
        const std::vector<ConsoleButton> buttons = game_->snapshot().buttons;
        const auto found = std::find_if(buttons.begin(), buttons.end(),
                                        [&](const ConsoleButton& button) { return button.command == command; });
        // A hand that shakes may have left the stage unawares: the button is gone.
        if (found == buttons.end() && noise_) return;
        GRAFTWRIGHT_CHECK(found != buttons.end(), "every command of a stage has a button");
        click(found->place.centre(), 0);
    }
}

void RobotHand::fine(bool on) {
    if (game_->snapshot().fine != on) ask(Command::fine);
}

void RobotHand::aim(const MeantBite& meant) {
    const Scenario scenario = *game_->snapshot().scenario;
    const double radius = bed_radius_mm(scenario, meant.at_deg) - 0.5 * kOpenGap_mm - meant.donor_bite_mm - kHoverRun_mm;
    const Point entry{radius * std::cos(rad_from_deg(meant.at_deg)), radius * std::sin(rad_from_deg(meant.at_deg))};
    if (device_ != Device::keyboard) {
        const Point canvas = strayed(game_->snapshot().layout.field_to_canvas(entry));
        late();
        tick({{HandDoes::move, canvas.x, canvas.y, 0, 0.0, ""}});
        wait(2);
    } else {
        const double now = game_->session().aim_deg();
        const double around = std::remainder(meant.at_deg - now, 360.0);
        steps(around >= 0.0 ? Command::left : Command::right, std::abs(around));
        fine(true);
        const double rest = std::remainder(meant.at_deg - game_->session().aim_deg(), 360.0);
        steps(rest >= 0.0 ? Command::left : Command::right, std::abs(rest) / 0.2);
        fine(false);
    }
    // Along the wound's normal and across it, by keys or buttons; a pointer has the distance already.
    const double skew = meant.skew_deg - game_->snapshot().plane->skew_deg;
    if (std::abs(meant.skew_deg) > 0.0 || std::abs(skew) > 0.5)
        steps(skew >= 0.0 ? Command::skew_more : Command::skew_less, std::abs(skew));
    if (device_ == Device::keyboard) {
        const double off = game_->snapshot().plane->entry_distance_mm - meant.donor_bite_mm - kHoverRun_mm;
        steps(off >= 0.0 ? Command::up : Command::down, std::abs(off) / 0.02);
    }
}

void RobotHand::hold(const MeantBite& meant) {
    if (game_->snapshot().forceps) ask(Command::forceps);
    if (!meant.hold) return;
    ask(Command::forceps);
    GRAFTWRIGHT_CHECK(game_->snapshot().forceps, "the forceps have the lip");
    steps(Command::evert_more, meant.eversion_deg / 2.0);
}

void RobotHand::set_pitch(double pitch_deg) {
    const auto off = [&] { return pitch_deg - game_->snapshot().section->pose.pitch_deg(); };
    steps(off() >= 0.0 ? Command::down : Command::up, std::floor(std::abs(off())));
    fine(true);
    steps(off() >= 0.0 ? Command::down : Command::up, std::abs(off()) / 0.2);
    fine(false);
}

void RobotHand::set_tip_depth(double depth_mm) {
    const auto tip = [&] {
        const SectionView section = *game_->snapshot().section;
        return -section.pose.at(section.needle).y;
    };
    const double off = depth_mm - tip();
    steps(off >= 0.0 ? Command::left : Command::right, std::abs(off) / 0.02);
}

void RobotHand::turn(double deg) {
    const int whole = static_cast<int>(deg / 0.5);
    const int fine_steps = static_cast<int>(std::ceil((deg - 0.5 * whole) / 0.1 - 1e-9));
    const int notches = strayed(whole);
    if (device_ == Device::mouse_and_wheel) {
        tick({{HandDoes::wheel, 0.0, 0.0, 0, static_cast<double>(notches), ""}});
    } else if (device_ == Device::mouse) {
        // A drag across the section: 0.1° a design pixel.
        const Rect section = game_->snapshot().layout.section();
        Point at{section.x + 20.0, section.centre().y};
        using Kind = HandDoes;
        tick({{Kind::move, at.x, at.y, 0, 0.0, ""}});
        tick({{Kind::press, at.x, at.y, 0, 0.0, ""}});
        for (int i = 0; i < notches; ++i) {
            at.x += 5.0;
            tick({{Kind::move, at.x, at.y, 0, 0.0, ""}});
        }
        tick({{Kind::release, at.x, at.y, 0, 0.0, ""}});
    } else {
        ask(Command::right, notches);
    }
    fine(true);
    steps(Command::turn_forward, fine_steps);
    fine(false);
    wait(static_cast<int>(deg / 0.125) + kSettle);
}

void RobotHand::drive(double turn_deg, double push_mm) {
    ask(Command::primary);
    if (push_mm == 0.0) return turn(turn_deg);
    const int pushes = static_cast<int>(std::round(push_mm / 0.02));
    turn(0.5 * turn_deg);
    steps(Command::push_out, pushes);
    wait(kSettle + static_cast<int>(push_mm / 0.005));
    turn(0.5 * turn_deg);
}

// Asks for the next stage; where the tip has not come out yet, drives on a little and asks again.
void RobotHand::pull_through(Stage driving) {
    constexpr int kPatience = 8;
    ask(Command::primary);
    for (int i = 0; noise_ && i < kPatience && game_->snapshot().stage == driving; ++i) {
        turn(1.0);
        ask(Command::primary);
    }
}

// The ends to so much more or less than they are held at now.
void RobotHand::draw_to(double tension_mN) {
    const double off = tension_mN - (game_->snapshot().tie ? game_->snapshot().tie->hand_mN : 0.0);
    const Command way = off >= 0.0 ? Command::tighter : Command::looser;
    steps(way, std::floor(std::abs(off)));
    fine(true);
    steps(way, (std::abs(off) - std::floor(std::abs(off))) / 0.2);
    fine(false);
    wait(static_cast<int>(std::abs(off) * 2.0) + kSettle);
}

void RobotHand::tie(double tension_mN, double worked_mN, Command bury) {
    ask(Command::primary);  // first throw
    const double meant = tension_mN / (1.0 - kSetBack);
    if (worked_mN > 0.0) {
        draw_to(worked_mN);
        ask(Command::work_round);
        show("07_worked_round");
    }
    draw_to(meant);
    show("07_pulled");
    ask(Command::primary);  // reversed: locks
    ask(Command::primary);
    show("08_locked");
    ask(Command::primary);  // ends
    show("09_to_bury");
    ask(bury);
}

void RobotHand::switch_running(bool on) {
    if (game_->snapshot().running != on) ask(Command::running_thread);
}

void RobotHand::tie_run(const MeantRun& meant) {
    ask(Command::tie_run);
    if (game_->snapshot().stage != Stage::tie) return;
    tie(meant.tension_mN, meant.worked_mN.value_or(meant.tension_mN / (1.0 - kSetBack)),
        meant.bury_in_host ? Command::bury_host : Command::bury_donor);
}

void RobotHand::run(const MeantRun& meant) {
    switch_running(true);
    for (const MeantBite& one : meant.bites) bite(one);
    tie_run(meant);
}

void RobotHand::cut_out(std::size_t bite) {
    const std::size_t bites = game_->snapshot().bites.size();
    for (std::size_t i = 0; i <= bites && game_->snapshot().selected != bite; ++i) ask(Command::next_bite);
    ask(Command::cut_out);
}

void RobotHand::bite(const MeantBite& meant) {
    aim(meant);
    hold(meant);
    show("02_lip_held");
    ask(Command::primary);
    if (game_->snapshot().stage != Stage::approach_donor) return;  // refused: the attempt is full, or a run is tied
    {
        const SectionView section = *game_->snapshot().section;
        const SectionTissue& tissue = section.tissue;
        const Lip lip{-tissue.gap_mm, tissue.donor_thickness_mm, rad_from_deg(section.eversion_deg)};
        const Point face = lip.everted({-tissue.gap_mm, -meant.depth_fraction * tissue.donor_thickness_mm});
        const Arc arc = arc_between(section.needle, section.pose.at(section.needle), face);
        set_pitch(arc.pitch_deg);
        show("03_approach");
        drive(arc.turn_deg + deg_from_rad(0.4 * tissue.gap_mm / section.needle.radius_mm()), meant.push_mm);
    }
    if (game_->snapshot().stage != Stage::drive_donor) return;
    show("04_donor_driven");
    pull_through(Stage::drive_donor);  // re-grasp
    if (game_->snapshot().stage != Stage::approach_host) return;
    if (meant.hold) ask(Command::forceps);
    {
        const SectionTissue tissue = game_->snapshot().section->tissue;
        set_tip_depth(meant.host_depth_fraction.value_or(meant.depth_fraction) * tissue.rim_thickness_mm);
        const SectionView section = *game_->snapshot().section;
        const Arc arc = arc_between(section.needle, section.pose.at(section.needle), {meant.host_bite_mm, 0.0});
        set_pitch(arc.pitch_deg);
        show("05_re_grasped");
        drive(arc.turn_deg + 1.5, 0.0);
        show("06_rim_driven");
    }
    pull_through(Stage::drive_host);
    if (game_->snapshot().stage != Stage::tie) return;
    tie(meant.tension_mN, 0.0, Command::bury_donor);
    if (game_->snapshot().stage == Stage::look) ask(Command::primary);
}

void RobotHand::finish() {
    ask(Command::finish);
    for (int i = 0; i < 10 && !game_->session().over(); ++i) tick({});
}

}  // namespace graftwright::scenes
