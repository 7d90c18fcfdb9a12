#include "score/ideal_twin.h"

#include <algorithm>
#include <cmath>

#include "score/scenario_model.h"

namespace graftwright {

std::vector<double> slots_deg(const std::vector<Bite>& bites) {
    std::vector<double> slots;
    std::vector<std::size_t> in_place;
    for (std::size_t b = 0; b < bites.size(); ++b) {
        slots.push_back(bites[b].host_deg);
        if (!bites[b].removed) in_place.push_back(b);
    }
    if (in_place.empty()) return slots;
    std::sort(in_place.begin(), in_place.end(),
              [&](std::size_t a, std::size_t b) { return bites[a].host_deg < bites[b].host_deg; });
    const double pitch = 360.0 / static_cast<double>(in_place.size());
    std::vector<double> offsets;
    for (std::size_t k = 0; k < in_place.size(); ++k) {
        const double offset = bites[in_place[k]].host_deg - static_cast<double>(k) * pitch;
        offsets.push_back(k == 0 ? offset : offsets.front() + std::remainder(offset - offsets.front(), 360.0));
    }
    const double origin = median(offsets);
    for (std::size_t k = 0; k < in_place.size(); ++k) slots[in_place[k]] = origin + static_cast<double>(k) * pitch;
    return slots;
}

std::vector<Bite> ideal_twins(const Scenario& scenario, const std::vector<Bite>& bites) {
    const std::vector<double> slots = slots_deg(bites);
    const double turn_deg = deg_from_rad(donor_turn(bites));
    std::vector<double> tensions;
    for (const Bite& bite : bites) {
        if (!bite.removed) tensions.push_back(bite.tension_mN);
    }
    std::vector<Bite> twins = bites;
    for (std::size_t b = 0; b < bites.size(); ++b) {
        if (bites[b].removed) continue;
        Bite& twin = twins[b];
        twin.host_deg = slots[b];
        twin.graft_deg = slots[b] - turn_deg;
        twin.graft_skew_mm = twin.host_skew_mm = 0.0;
        twin.graft_bite_mm = twin.host_bite_mm = kTwinBite_mm;
        twin.graft_depth_um = kTwinDepth * scenario.graft.thickness_um;
        twin.host_depth_um = kTwinDepth * scenario.eye.rim_thickness_um;
        twin.graft_entry_deg = twin.host_exit_deg = 90.0;
        twin.tension_mN = median(tensions);
    }
    return twins;
}

}  // namespace graftwright
