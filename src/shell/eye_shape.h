// The eye as the mechanics sees it: three spherical shells about one axis.
//
// Donor button and host rim lie on one sphere (mid-surface radius `mid_radius`), meet at the wound,
// and the rim goes on into the sclera at the limbus, where the slope jumps. The shape is free of
// stress at zero pressure. Units: mm, MPa. Bed shift, ovality and uneven thickness are no part of the
// shells: ovality enters as interference at the wound, a shift moves the optical centre.
#pragma once

#include "base/units.h"

namespace graftwright {

struct EyeShape {
    double mid_radius = 7.525;     // donor and rim, mid-surface
    double wound_radius = 3.9375;  // from the axis, half the bed's mean diameter
    double limbus_radius = 5.9;    // from the axis
    double donor_thickness = 0.55;
    double rim_thickness = 0.62;
    double donor_modulus = 1.0;
    double rim_modulus = 1.0;
    double poisson_ratio = 0.45;
    double sclera_radius = 11.5;
    double sclera_thickness = 0.8;
    double sclera_modulus = 2.5;
    double sclera_end_colatitude = 150.0 * kPi / 180.0;  // held there
    bool pressure_stiffens = true;                       // false: N = 0, for comparisons only
};

// How finely the meridian is divided; defaults are converged to far below the optics' 0.01 D
// (tests/shell/shell_side_test.cpp refines them).
struct MeridianMesh {
    int donor_elements = 14;
    int rim_elements = 9;
    int sclera_elements = 16;
};

}  // namespace graftwright
