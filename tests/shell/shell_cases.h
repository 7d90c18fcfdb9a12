// Shells that a handbook knows: caps, hemispheres and plates, each a donor with its wound ring as the edge.
//
// A plate is a cap of a sphere so large that its curvature carries nothing. mm, N, MPa, rad.
#pragma once

#include <cmath>

#include <Eigen/Core>

#include "../scenes/condensed_harmonic.h"
#include "shell/shell_side.h"

namespace graftwright::scenes {

struct Cap {
    double radius = 7.6;  // of the mid-surface
    double thickness = 0.55;
    double modulus = 1.0;
    double poisson = 0.45;
    double edge_angle = 0.9;  // from the axis, at most π/2
    int elements = 28;

    [[nodiscard]] double edge_radius() const { return radius * std::sin(edge_angle); }
    [[nodiscard]] double bending() const {
        return modulus * thickness * thickness * thickness / (12.0 * (1.0 - poisson * poisson));
    }
    [[nodiscard]] double shear_modulus() const { return modulus / (2.0 * (1.0 + poisson)); }

    [[nodiscard]] ShellSide side(bool pressure_stiffens = true) const {
        EyeShape shape;
        shape.mid_radius = radius;
        shape.wound_radius = edge_radius();
        shape.donor_thickness = thickness;
        shape.donor_modulus = modulus;
        MeridianMesh mesh;
        mesh.donor_elements = elements;
        return {Meridian::donor(shape, mesh), poisson, pressure_stiffens};
    }
};

}  // namespace graftwright::scenes
