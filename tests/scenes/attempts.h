// Closures that many tests ask about: the standard eye, even patterns of single bites, and two ways to
// solve them: tied in order as a hand does, or with all tensions prescribed at once.
//
// The standard eye is the default scenario: donor 8.0 mm in a bed of 7.75 mm (interference 0.125 mm all
// round), E 1 MPa, donor 550 µm, rim 620 µm, 15 mmHg. Interface units: mm, µm, mN, mmHg, degrees, D.
#pragma once

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <vector>

#include "base/angle.h"
#include "optics/deformed_donor.h"
#include "score/even_pattern.h"
#include "score/measured_closure.h"

namespace graftwright::scenes {

[[nodiscard]] inline Scenario standard_scenario() {
    Scenario scenario;
    scenario.id = "standard";
    return scenario;
}

// Half the harmonics and points: for logic that no fine number hangs on, a quarter of the time.
[[nodiscard]] inline WoundModelOptions coarse_options() {
    WoundModelOptions options;
    options.harmonics = 32;
    options.points = 128;
    return options;
}

using graftwright::apart_deg;
using graftwright::cardinal_first_deg;

// What all bites of an even pattern have in common. Depth 0.92 and 1.1 mm are the ideal twin's.
struct EvenBite {
    double tension_mN = 15.0;
    double depth_fraction = 0.92;  // of each side's own thickness
    double length_mm = 1.1;        // on each side
};

[[nodiscard]] inline Bite bite_at(const Scenario& scenario, double deg, const EvenBite& even = {}) {
    Bite bite;
    bite.graft_deg = bite.host_deg = deg;
    bite.graft_bite_mm = bite.host_bite_mm = even.length_mm;
    bite.graft_depth_um = even.depth_fraction * scenario.graft.thickness_um;
    bite.host_depth_um = even.depth_fraction * scenario.eye.rim_thickness_um;
    bite.tension_mN = even.tension_mN;
    return bite;
}

[[nodiscard]] inline std::vector<Bite> even_bites(const Scenario& scenario, int n, const EvenBite& even = {}) {
    std::vector<Bite> bites;
    for (const double deg : cardinal_first_deg(n)) bites.push_back(bite_at(scenario, deg, even));
    return bites;
}

// The bite nearest to an angle.
[[nodiscard]] inline Bite& nearest(std::vector<Bite>& bites, double deg) {
    return *std::min_element(bites.begin(), bites.end(), [&](const Bite& a, const Bite& b) {
        return apart_deg(a.host_deg, deg) < apart_deg(b.host_deg, deg);
    });
}

// Tied in the order given. Throws where there is no balance, so that a test says so and stops.
[[nodiscard]] inline ClosureMeasures tied(const ScenarioModel& model, const std::vector<Bite>& bites,
                                          bool leak = false) {
    MeasureOptions options;
    options.irregularity = false;
    options.leak = leak;
    ClosureMeasures measures = measure_closure(model, plan_closure(model, bites), options);
    if (!measures.status.converged) throw std::runtime_error("no closure: " + measures.status.reason);
    return measures;
}

// All tensions prescribed at once (the bites' own), at a chamber pressure; no tying order, no friction
// bound, no fluid in the wound.
struct PrescribedClosure {
    DeformedDonor front;
    Keratometry keratometry;
    std::vector<SealPlace> profile;
    PointJumps jumps;             // host − donor, rows u, v, w, b_s; mm, rad
    Eigen::VectorXd host_edge_u;  // the bed's edge along the meridian, outward, mm, at the same points

    [[nodiscard]] double mean_bs_rad() const { return jumps.row(3).mean(); }
    [[nodiscard]] double host_edge_u_at(double deg) const {
        const auto n = host_edge_u.size();
        return host_edge_u[std::lround(deg / 360.0 * static_cast<double>(n)) % n];
    }

    [[nodiscard]] double least_seal_mmHg() const {
        double least = profile.front().seal_mmHg;
        for (const SealPlace& place : profile) least = std::min(least, place.seal_mmHg);
        return least;
    }
};

[[nodiscard]] inline PrescribedClosure prescribed(const ScenarioModel& model, const std::vector<Bite>& bites,
                                                  double pressure_mmHg) {
    const PreparedClosure prepared(model, plan_closure(model, bites));
    const WoundInterface& interface = prepared.interface;
    std::vector<double> tensions;
    for (const KnotPlan& bite : prepared.bites) tensions.push_back(bite.tension);
    Closure closure = prepared.closure();
    if (!closure.prescribe(tensions, mpa_from_mmhg(pressure_mmHg))) {
        throw std::runtime_error("no closure: " + closure.status().reason);
    }
    const ClosureState& state = closure.state();
    const auto donor = model.wound().donor_displacement(state.pressure, state.donor_edge(), prepared.paths(),
                                                        state.tension, model.wound().harmonics());
    const DeformedDonor front(model.wound(), donor, model.pupil());
    const RingMatrix host_edge = state.jump() + state.donor_edge();
    return {front, read_keratometry(front).value(), seal_profile(closure), interface.at_points(state.jump()),
            interface.at_points(host_edge).row(0)};
}

// The place of a profile nearest to an angle.
[[nodiscard]] inline const SealPlace& place_at(const std::vector<SealPlace>& profile, double deg) {
    return *std::min_element(profile.begin(), profile.end(), [&](const SealPlace& a, const SealPlace& b) {
        return apart_deg(a.deg, deg) < apart_deg(b.deg, deg);
    });
}

}  // namespace graftwright::scenes
