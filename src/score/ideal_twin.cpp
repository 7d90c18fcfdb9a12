#include "score/ideal_twin.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "base/statistics.h"
#include "base/units.h"
#include "score/scenario_model.h"

namespace graftwright {
namespace {

// Gives each of these bites its slot: they are one pattern, none of them removed.
void share_out_slots(const std::vector<OrderedBite>& bites, std::vector<std::size_t> pattern,
                     std::vector<double>& slots) {
    std::sort(pattern.begin(), pattern.end(),
              [&](std::size_t a, std::size_t b) { return bites[a].host_deg < bites[b].host_deg; });
    const double pitch = 360.0 / static_cast<double>(pattern.size());
    std::vector<double> offsets;
    for (std::size_t k = 0; k < pattern.size(); ++k) {
        const double offset = bites[pattern[k]].host_deg - static_cast<double>(k) * pitch;
        offsets.push_back(k == 0 ? offset : offsets.front() + turn_between_deg(offsets.front(), offset));
    }
    const double origin = median(offsets);
    for (std::size_t k = 0; k < pattern.size(); ++k) slots[pattern[k]] = origin + static_cast<double>(k) * pitch;
}

}  // namespace

std::vector<double> slots_deg(const std::vector<OrderedBite>& bites) {
    std::vector<double> slots;
    for (const OrderedBite& bite : bites) slots.push_back(bite.host_deg);
    for (const std::vector<std::size_t>& pattern : patterns_in_eye(bites)) share_out_slots(bites, pattern, slots);
    return slots;
}

std::vector<OrderedBite> ideal_twins(const Scenario& scenario, const std::vector<OrderedBite>& bites) {
    const std::vector<double> slots = slots_deg(bites);
    const double turn_deg = deg_from_rad(donor_turn(bites));
    std::vector<double> tensions;
    for (const OrderedBite& bite : bites) {
        if (!bite.removed && !bite.run) tensions.push_back(bite.tension_mN);
    }
    std::vector<OrderedBite> twins = bites;
    for (std::size_t b = 0; b < bites.size(); ++b) {
        if (bites[b].removed) continue;
        OrderedBite& twin = twins[b];
        twin.host_deg = slots[b];
        twin.graft_deg = slots[b] - turn_deg;
        twin.graft_skew_mm = twin.host_skew_mm = 0.0;
        twin.graft_bite_mm = twin.host_bite_mm = kTwinBite_mm;
        twin.graft_depth_um = kTwinDepth * scenario.graft.thickness_um;
        twin.host_depth_um = kTwinDepth * scenario.eye.rim_thickness_um;
        twin.graft_entry_deg = twin.host_exit_deg = 90.0;
        if (!twin.run) twin.tension_mN = median(tensions);
    }
    return twins;
}

std::vector<double> slots_deg(const std::vector<Bite>& bites) { return slots_deg(bites_in_order(bites)); }

std::vector<Bite> ideal_twins(const Scenario& scenario, const std::vector<Bite>& bites) {
    return bites_and_runs(ideal_twins(scenario, bites_in_order(bites)), {}).first;
}

}  // namespace graftwright
