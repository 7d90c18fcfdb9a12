#include "study/simulated_hand.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "base/angle.h"
#include "base/statistics.h"
#include "base/units.h"
#include "closure/tying.h"
#include "files/event_kind.h"
#include "hand/tying_order.h"
#include "score/bite_metrics.h"
#include "score/scenario_model.h"

namespace graftwright {
namespace {

std::size_t in_place(const std::vector<Bite>& bites) {
    return static_cast<std::size_t>(
        std::count_if(bites.begin(), bites.end(), [](const Bite& bite) { return !bite.removed; }));
}

// Along the surface from the wound to the limbus where the rim is narrowest (mm).
double least_rim_mm(const Scenario& scenario) {
    const Eye& eye = scenario.eye;
    const double radius = eye.anterior_radius_mm - 0.5 * mm_from_um(eye.rim_thickness_um);
    const double wound = 0.5 * eye.bed_diameter_mm + 0.25 * eye.bed_ovality_mm;
    const double limbus = 0.5 * eye.limbus_diameter_mm - std::hypot(eye.bed_shift_mm[0], eye.bed_shift_mm[1]);
    return radius * (std::asin(limbus / radius) - std::asin(wound / radius));
}

// One bite after another.
class HandAtWork {
  public:
    HandAtWork(const Scenario& scenario, const HandSkill& skill, RandomStream& random)
        : scenario_(scenario),
          skill_(skill),
          random_(random),
          tremor_mm_(mm_from_um(scenario.task.hand.tremor_um)),
          rim_mm_(least_rim_mm(scenario)) {}

    [[nodiscard]] Bite bite(double slot_deg, bool anchored) {
        const double at_mm = 0.5 * scenario_.eye.bed_diameter_mm;
        Bite bite;
        bite.host_deg = slot_deg + off(skill_.angle_sd_deg, deg_from_rad(tremor_mm_ / at_mm));
        bite.graft_deg = bite.host_deg + (anchored ? 0.0 : slip_deg());
        bite.graft_skew_mm = off(skill_.skew_sd_mm, tremor_mm_);
        bite.host_skew_mm = off(skill_.skew_sd_mm, tremor_mm_);
        constexpr double kOfTheRim = 0.85;  // aimed at where the rim is short: clear of the limbal vessels
        const double host_aim = std::min(skill_.length_mm, kOfTheRim * rim_mm_);
        bite.graft_bite_mm = std::clamp(skill_.length_mm + off(skill_.length_sd_mm, tremor_mm_), 0.25, 2.5);
        bite.host_bite_mm =
            std::clamp(host_aim + off(skill_.length_sd_mm, tremor_mm_), 0.25, std::min(2.5, 0.98 * rim_mm_));
        set_depths(bite);
        bite.tension_mN = tension_mN(slot_deg);
        turn_in_range(bite);
        return bite;
    }

    // Laid in this order and tied; the donor is held by the single bites, or not.
    [[nodiscard]] Run run(const std::vector<double>& slots_deg, bool anchored) {
        Run run;
        for (const double slot : slots_deg) run.bites.push_back({static_cast<const BitePath&>(bite(slot, anchored))});
        const auto drawn_mN = [&](double aim) {
            return std::clamp(aim * (1.0 + skill_.tension_sd * random_.normal()), 0.0, scenario_.thread.break_mN);
        };
        run.worked_mN = random_.chance(skill_.works_round) ? drawn_mN(skill_.run_worked_mN) : 0.0;
        run.tension_mN = drawn_mN(skill_.run_knot_mN);
        return run;
    }
    // One more bite, or a knot: is there time for it?
    [[nodiscard]] bool in_time(double usual_s) {
        time_s_ += std::max(5.0, usual_s + skill_.bite_sd_s * random_.normal());
        return !scenario_.task.time_limit_s || time_s_ <= *scenario_.task.time_limit_s;
    }
    void may_harm(std::vector<Event>& events) {
        if (random_.chance(skill_.harms_a_bite)) events.push_back(event_of(time_s_, EventKind::trauma));
    }

  private:
    // Two independent errors together.
    double off(double sd, double tremor) { return std::hypot(sd, tremor) * random_.normal(); }
    double slip_deg() {
        return (random_.chance(skill_.steadies) ? skill_.held_slip_sd_deg : skill_.free_slip_sd_deg) * random_.normal();
    }
    void set_depths(Bite& bite) {
        const double donor_um = scenario_.graft.thickness_um, rim_um = scenario_.eye.rim_thickness_um;
        // A rim much thicker than the donor: its pass goes as deep as though it were thicker by the usual
        // difference only, which brings the fronts level (the step of closure/crossing.h).
        constexpr double kUsualDifference_um = 70.0;  // rim 620, donor 550 µm: this program's standard eye
        const double excess_um = std::max(0.0, rim_um - donor_um - kUsualDifference_um);
        const double host_aim = skill_.depth * (skill_.levels_fronts ? 1.0 - excess_um / rim_um : 1.0);
        const auto depth_um = [&](double aim, double thickness_um) {
            const double fraction = aim + off(skill_.depth_sd, um_from_mm(tremor_mm_) / thickness_um);
            return std::clamp(fraction, 0.1, 1.0) * thickness_um;
        };
        bite.graft_depth_um = depth_um(skill_.depth, donor_um);
        bite.host_depth_um = depth_um(host_aim, rim_um);
    }
    double tension_mN(double slot_deg) {
        // A bed longer one way makes that meridian steep; threads across it, drawn tighter, answer.
        constexpr double kTighterPerMm = 2.0;  // fraction of the tension per mm of ovality; our choice
        const double across = -std::cos(2.0 * rad_from_deg(slot_deg - scenario_.eye.bed_ovality_axis_deg));
        const double counter =
            skill_.counters_ovality ? 1.0 + kTighterPerMm * scenario_.eye.bed_ovality_mm * across : 1.0;
        const double drawn = skill_.tension_mN * counter * (1.0 + skill_.tension_sd * random_.normal());
        return std::clamp(drawn, 0.0, scenario_.thread.break_mN);
    }
    static void turn_in_range(Bite& bite) {
        for (double* deg : {&bite.host_deg, &bite.graft_deg}) *deg = std::fmod(std::fmod(*deg, 360.0) + 360.0, 360.0);
    }

    const Scenario& scenario_;
    const HandSkill& skill_;
    RandomStream& random_;
    double tremor_mm_, rim_mm_;
    double time_s_ = 0.0;
};

// The task's slots in tying order; the pattern stands where most of the bites in place have it.
std::vector<double> task_slots_deg(const Scenario& scenario, const std::vector<Bite>& bites) {
    std::vector<double> slots = task_slots(scenario.task.pattern, scenario.task.bites).single_deg;
    const double pitch = 360.0 / static_cast<double>(slots.size());
    std::vector<double> offsets;
    for (const Bite& bite : bites)
        if (!bite.removed) offsets.push_back(std::remainder(bite.host_deg - 90.0, pitch));
    if (!offsets.empty())
        for (double& slot : slots) slot += median(offsets);
    return slots;
}

// What a teacher would see at a glance on a bite that lies in the eye.
bool looks_wrong(const Bite& bite, const BiteMetrics& metrics, const std::vector<double>& slots) {
    const bool on_a_slot = std::any_of(slots.begin(), slots.end(), [&](double slot) {
        return apart_deg(bite.host_deg, slot) <= kSpacingError_deg.value;
    });
    using enum BiteFlag;
    return !on_a_slot || metrics.has_any({not_radial, loose, tight, shallow_graft, shallow_host});
}

void cut_out_what_looks_wrong(const Scenario& scenario, const HandSkill& skill, const std::vector<double>& slots,
                              RandomStream& random, std::vector<Bite>& bites) {
    std::vector<double> locked;  // a loose or tight one is seen in its dimple
    for (const Bite& bite : bites) locked.push_back(bite.tension_mN);
    const std::vector<BiteMetrics> metrics = bite_metrics(scenario, bites, locked);
    for (std::size_t b = 0; b < bites.size(); ++b) {
        if (bites[b].removed || !looks_wrong(bites[b], metrics[b], slots) || !random.chance(skill.notices)) continue;
        bites[b].removed = true;
        bites[b].removed_after = static_cast<int>(bites.size());
    }
}

// The slots without a bite.
std::vector<double> open_slots_deg(const std::vector<double>& slots, const std::vector<Bite>& bites) {
    const double pitch = 360.0 / static_cast<double>(slots.size());
    std::vector<double> open;
    for (const double slot : slots) {
        const bool taken = std::any_of(bites.begin(), bites.end(), [&](const Bite& bite) {
            return !bite.removed && apart_deg(bite.host_deg, slot) < 0.5 * pitch;
        });
        if (!taken) open.push_back(slot);
    }
    return open;
}

}  // namespace

Attempt simulated_attempt(const Scenario& scenario, const HandSkill& skill, RandomStream& random) {
    Attempt attempt;
    attempt.scenario = scenario.id;
    attempt.trainee = "simulated: " + std::string(skill.name);
    attempt.bites = scenario.start.bites;
    attempt.runs = scenario.start.runs;
    if (asks_a_question(scenario.kind)) return attempt;
    HandAtWork hand(scenario, skill, random);
    const TaskSlots task = task_slots(scenario.task.pattern, scenario.task.bites);
    if (!task.single_deg.empty()) {
        const std::vector<double> slots = task_slots_deg(scenario, attempt.bites);
        if (!attempt.bites.empty()) cut_out_what_looks_wrong(scenario, skill, slots, random, attempt.bites);
        for (const double slot : open_slots_deg(slots, attempt.bites)) {
            if (!hand.in_time(skill.bite_s)) return attempt;
            attempt.bites.push_back(hand.bite(slot, in_place(attempt.bites) >= kBitesThatAnchorADonor));
            hand.may_harm(attempt.events);
        }
    }
    for (const std::vector<double>& slots : task.run_deg) {
        const bool anchored = in_place(attempt.bites) >= kBitesThatAnchorADonor || !attempt.runs.empty();
        const Run run = hand.run(slots, anchored);
        for (std::size_t k = 0; k < run.bites.size(); ++k) {
            if (!hand.in_time(skill.bite_s)) return attempt;  // a run without its knot holds nothing
            hand.may_harm(attempt.events);
        }
        if (!hand.in_time(skill.bite_s)) return attempt;
        attempt.runs.push_back(run);
    }
    // Where the task asks for no single bites, those of the start only held the donor meanwhile.
    if (task.single_deg.empty() && attempt.runs.size() > scenario.start.runs.size())
        for (Bite& bite : attempt.bites) bite.removed = true;
    return attempt;
}

}  // namespace graftwright
