// The input of a recorded ring (tests/data/reference/ring_*.json) as a case of ours.
#pragma once

#include "files/ring_case.h"
#include "reference_data.h"

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
        ring.bites.push_back({bite.at("deg"), bite.at("graft_mm"), bite.at("host_mm"), bite.at("depth_fraction"),
                              bite.value("tension_mN", 0.0)});
    }
    return ring;
}

}  // namespace graftwright::scenes
