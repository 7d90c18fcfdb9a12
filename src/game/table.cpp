#include "game/table.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/point.h"
#include "base/units.h"
#include "closure/tying.h"
#include "score/bites_in_order.h"

namespace graftwright {
namespace {

constexpr double kEvertStep_deg = 2.0;
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

Table::Table(std::shared_ptr<const ScenarioModel> scenario_model, std::string trainee, std::string started)
    : model(std::move(scenario_model)), donor(afloat_shape(scenario())), bite(scenario(), kFirstAim_deg) {
    threads.attempt.scenario = scenario().id;
    threads.attempt.trainee = std::move(trainee);
    threads.attempt.started = std::move(started);
    threads.begin(scenario(), donor);
    looked_at = threads.in_place() >= 4 ? 4 : threads.in_place() >= 2 ? 2 : 0;
}

int Table::bites_counted() const {
    const std::size_t single_in_hand = tying && !tying->run ? 1 : 0;
    std::size_t count = threads.in_place() + threads.open_run.size() + single_in_hand;
    if (in_running_pattern(scenario())) count -= bites_in_eye(threads.attempt.bites, {}) + single_in_hand;
    return static_cast<int>(count);
}

double Table::gap_mm(double deg) const {
    if (!wound || !wound->converged || wound->gap_front_um.empty()) return kOpenGap_mm;
    const auto n = static_cast<double>(wound->gap_front_um.size());
    const auto j = static_cast<std::size_t>(std::fmod(std::round(deg / 360.0 * n) + n, n));
    return mm_from_um(std::clamp(wound->gap_front_um[j], 0.0, 300.0));
}

void Table::act(const Action& action) {
    if (action.kind == Action::Kind::forceps) use_forceps(action.at);
    if (action.kind == Action::Kind::carry && donor.held()) {
        const Point now = donor.hold_point();
        donor.move_hold({now.x + action.at.x, now.y + action.at.y});
    }
    if (action.command == Command::forceps) use_forceps(std::nullopt);
    const bool more = action.command == Command::evert_more;
    if (!more && action.command != Command::evert_less) return;
    if (!donor.held()) return say("Hold the lip with the forceps first.", true);
    const double by_deg = (more ? 1.0 : -1.0) * action.amount * kEvertStep_deg;
    eversion_deg = std::clamp(eversion_deg + by_deg, 0.0, kMostEversion_deg);
}

void Table::use_forceps(std::optional<Point> at) {
    if (donor.held()) {
        donor.let_go();
        eversion_deg = 0.0;
        return;
    }
    if (!at) {
        // By key: the lip, beside the bite that is aimed at.
        constexpr double kInward_mm = 0.25, kBeside_deg = 12.0;
        const DonorPose pose = donor.pose();
        const BitePlane plane = bite.plane(pose);
        const double deg =
            deg_from_rad(std::atan2(plane.donor_edge.y - pose.y, plane.donor_edge.x - pose.x)) + kBeside_deg;
        const double radius = bed_radius_mm(scenario(), deg) - kInward_mm;
        at = plus({pose.x, pose.y}, polar(radius, rad_from_deg(deg)));
    }
    if (!donor.hold(*at)) say("No donor under the forceps.", true);
}

void Table::select_near(Point field) {
    double nearest = 1e9;
    for (std::size_t b = 0; b < threads.count(); ++b) {
        const LaidBite laid = laid_bite(b);
        if (laid.bite.removed) continue;
        const double away = distance(laid.exit, field);
        if (away >= nearest) continue;
        nearest = away;
        selected = b;
    }
}

void Table::cut_out_selected() {
    using In = LaidThreads::Place::In;
    const bool any = selected && *selected < threads.count();
    const LaidThreads::Place place = any ? threads.place_of(*selected) : LaidThreads::Place{};
    if (!any || (place.in == In::single && threads.attempt.bites[*selected].removed))
        return say("Select a bite that lies in the eye.", true);
    if (place.in == In::open_run) return draw_run_bite_back();
    threads.remember();
    if (place.in == In::single) {
        threads.cut(*selected, donor);
        note(EventKind::cut_out, {{"bite", *selected + 1}});
        say(fmt::format("Bite {} is out. Time and tissue are the price.", *selected + 1));
        return;
    }
    const std::size_t bites = threads.attempt.runs[place.run].bites.size();
    threads.cut_run(place.run, donor);
    selected.reset();
    note(EventKind::run_cut_out, {{"run", place.run + 1}, {"bites", bites}});
    say(fmt::format("The run is cut and pulled out with {}. Time and tissue are the price.",
                    bites == 1 ? "its one bite" : fmt::format("all its {} bites", bites)));
}

void Table::draw_run_bite_back() {
    threads.remember();
    const std::size_t bite_number = threads.open_run.size();
    note(EventKind::run_bite_out, {{"run", threads.attempt.runs.size() + 1}, {"bite", bite_number}});
    say(fmt::format("The thread is drawn back out of bite {} of the run.", bite_number));
    threads.open_run.pop_back();
    threads.open_run_warned = false;
    selected.reset();
    if (threads.count() > 0) selected = threads.count() - 1;
}

void Table::lose_bite(EventKind how, const std::string& words) {
    note(how);
    say(words, true);
    tying.reset();
    bite.give_up();
}

void Table::pass_time(int ticks) {
    active_ticks += ticks;
    if (threads.in_place() < kBitesThatAnchorADonor) open_ticks += ticks;
}

void Table::say(std::string words, bool warn) {
    notice = std::move(words);
    warning = warn;
    notice_until = tick + static_cast<int>(kNoticeSeconds * kTicksPerSecond);
}

void Table::note(EventKind kind, std::initializer_list<EventDetail> details) {
    threads.attempt.events.push_back(event_of(time_s(), kind, details));
}

}  // namespace graftwright
