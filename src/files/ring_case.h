// A verification case of the `ring` command: constants and tensions prescribed, so that anyone can
// hold the model against another program.
//
// One member per key, under the key's own name, in the file's units. Every key is required: a case
// that another program must reproduce may not lean on our defaults. (Only "format" and "version",
// which carry no mechanics, and what makes a bite other than radial and equal may be left out.) Donor and rim share E and ν. Ranges:
// levels/FORMAT.md.
#pragma once

#include <optional>
#include <vector>

namespace graftwright {

struct RingSclera {
    double R_mm = 0.0;  // middle surface
    double t_mm = 0.0;
    double E_MPa = 0.0;
    friend bool operator==(const RingSclera&, const RingSclera&) = default;
};

// Quarter-ellipse path.
struct RingBite {
    double deg = 0.0;
    double graft_mm = 0.0;
    double host_mm = 0.0;
    double depth_fraction = 0.0;  // of the local thickness, both sides; 1 = through and through
    double tension_mN = 0.0;      // prescribed
    // Of the host where it differs from the donor.
    std::optional<double> host_deg{}, host_depth_fraction{};
    // Sideways offset of entry and exit from the radial line, + counter-clockwise.
    double graft_skew_mm = 0.0, host_skew_mm = 0.0;
    friend bool operator==(const RingBite&, const RingBite&) = default;
};

struct RingCase {
    double R_mid_mm = 0.0;  // donor and rim, middle surface
    double t_graft_mm = 0.0;
    double t_rim_mm = 0.0;
    double E_MPa = 0.0;
    double nu = 0.0;
    double wound_r_mm = 0.0;
    double limbus_r_mm = 0.0;
    RingSclera sclera;
    double kc_MPa_per_mm = 0.0;
    double kt_MPa_per_mm = 0.0;
    double interference_mm = 0.0;  // donor radius minus bed radius
    double pressure_mmHg = 0.0;
    bool stiffening = true;  // false: the pressure does not stiffen (N = 0)
    std::vector<RingBite> bites;
    friend bool operator==(const RingCase&, const RingCase&) = default;
};

}  // namespace graftwright
