// A recorded ring (tests/data/reference/ring_*.json) as a case of ours, and how ours is held against it.
#pragma once

#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "reference_data.h"
#include "running_scenes.h"
#include "score/verification.h"

namespace graftwright::scenes {

// A running thread's bites have no tension of their own: it reads 0.
[[nodiscard]] inline RingCase recorded_ring(const nlohmann::json& input, bool stiffening) {
    RingCase ring;
    ring.R_mid_mm = input.at("R_mid_mm");
    ring.t_graft_mm = input.at("t_graft_mm");
    ring.t_rim_mm = input.at("t_rim_mm");
    ring.E_MPa = input.at("E_MPa");
    ring.nu = input.at("nu");
    ring.wound_r_mm = input.at("wound_r_mm");
    ring.limbus_r_mm = input.at("limbus_r_mm");
    ring.sclera = {input.at("sclera").at("R_mm"), input.at("sclera").at("t_mm"), input.at("sclera").at("E_MPa")};
    ring.kc_MPa_per_mm = input.at("kc_MPa_per_mm");
    ring.kt_MPa_per_mm = input.at("kt_MPa_per_mm");
    ring.interference_mm = input.at("interference_mm");
    ring.pressure_mmHg = input.at("pressure_mmHg");
    ring.stiffening = stiffening;
    for (const nlohmann::json& bite : input.at("bites")) {
        const auto of_the_host = [&](const char* key, const char* common) {
            return std::optional<double>(bite.contains(key) ? bite.at(key) : bite.at(common));
        };
        ring.bites.push_back({bite.at("deg"), bite.at("graft_mm"), bite.at("host_mm"), bite.at("depth_fraction"),
                              bite.value("tension_mN", 0.0), of_the_host("host_deg", "deg"),
                              of_the_host("host_depth_fraction", "depth_fraction"), bite.value("graft_skew_mm", 0.0),
                              bite.value("host_skew_mm", 0.0)});
    }
    return ring;
}

[[nodiscard]] inline std::vector<BiteGeometry> bites_of(const RingCase& ring) {
    std::vector<BiteGeometry> bites;
    for (const RingBite& bite : ring.bites) bites.push_back(ring_bite(ring, bite));
    return bites;
}

// Of a running thread, in N.
[[nodiscard]] inline std::vector<double> span_tensions(const nlohmann::json& input) {
    std::vector<double> tensions;
    for (const double tension_mN : input.at("span_tension_mN")) tensions.push_back(newton_from_mn(tension_mN));
    return tensions;
}

// The recorded ring of a running thread, its tensions prescribed span by span.
[[nodiscard]] inline RingResult solve_running(const nlohmann::json& input) {
    const RingCase ring = recorded_ring(input, false);
    const WoundModel model = ring_model(ring);
    const ClosureSystem system(model, make_span_loads(model, ends_of(bites_of(ring))), {{0, ring.bites.size(), 0.0}});
    const WoundInterface interface = ring_interface(ring, model);
    Closure closure(system, interface, 1.0);  // tensions are prescribed: the thread's stiffness is not used
    closure.prescribe(span_tensions(input), mpa_from_mmhg(ring.pressure_mmHg));
    return ring_result(closure);
}

// What a ring must reach against its record; the requirement and what was found: ring_reference_test.cpp.
inline void check_ring(const RingResult& got, const nlohmann::json& reference) {
    using Catch::Matchers::WithinAbs;
    using Catch::Matchers::WithinRel;
    const RecordedCurvature wanted = recorded_curvature(reference, "fourth_disc_1.6");
    const nlohmann::json& results = reference.at("results");
    const double seal = results.at("least_seal_at_5_gauss_points_kPa"), peak_seal = results.at("least_seal_kPa");
    const double u = results.at("mean_u_mm"), b_s = results.at("mean_bs_rad"), contact = results.at("mean_contact_kPa");
    INFO("mean K " << *got.mean_D << " (" << wanted.mean_D << ") D, cylinder " << *got.cylinder_D << " ("
                   << wanted.cylinder_D << ") D");
    INFO("seal " << *got.least_seal_kPa << " (" << seal << ", peak " << peak_seal << ") kPa, contact "
                 << *got.mean_contact_kPa << " (" << contact << ") kPa");
    INFO("[u] " << *got.mean_u_mm << " (" << u << ") mm, [b_s] " << *got.mean_bs_rad << " (" << b_s << ")");
    CHECK_THAT(*got.mean_D, WithinAbs(wanted.mean_D, 0.5));
    if (wanted.cylinder_D > 0.1) {
        CHECK_THAT(*got.cylinder_D, WithinRel(wanted.cylinder_D, 0.10));
        CHECK_THAT(std::remainder(*got.steep_axis_deg - wanted.steep_axis_deg, 180.0), WithinAbs(0.0, 1.0));
    } else {
        CHECK_THAT(*got.cylinder_D, WithinAbs(wanted.cylinder_D, 0.02));
    }
    // One case is open between its bites on both sides.
    CHECK_THAT(*got.least_seal_kPa, WithinRel(seal, 0.10) || WithinAbs(seal, 1e-12));
    CHECK_THAT(*got.least_seal_kPa, WithinRel(peak_seal, 0.10) || WithinAbs(peak_seal, 1e-12));
    // Closer than the requirement, which has no word on them: a contact of k_c times a small difference of [u] and
    // δ can only be as good as [u]. The bend: 0.004 rad is 1 µm at the wall's edge.
    CHECK_THAT(*got.mean_u_mm, WithinRel(u, 0.01));
    CHECK_THAT(*got.mean_bs_rad, WithinAbs(b_s, 0.004));
    CHECK_THAT(*got.mean_contact_kPa, WithinRel(contact, 0.06));
}

}  // namespace graftwright::scenes
