// Point forces on one side of the wound as loads on its unknowns, harmonic by harmonic.
//
// What no harmonic changes (the element, its shape functions, the components) is worked out once. A normal force at
// height z also squeezes or stretches the wall: by Poisson's effect it works on
//   −ν/(1−ν) [ (ε_s+ε_θ) z + (χ_s+χ_θ) ½ (z² − t²/20) ],
// the resultants of the normal stress between the force and the shear stress that carries it off. mm, N, rad.
#pragma once

#include <vector>

#include <Eigen/Core>

#include "shell/shell_side.h"

namespace graftwright {

// A point force on the tissue, in the local frame at (s, θ), at height z above the mid-surface; in
// space it is spread along the circumference by a Gaussian of standard deviation `spread` (mm).
struct PointForce {
    double s = 0.0, theta = 0.0, z = 0.0;
    double along_meridian = 0.0, along_circumference = 0.0, along_normal = 0.0;
    double spread = 0.0;
};

class PointLoads {
  public:
    // The side must outlive the loads.
    PointLoads(const ShellSide& side, const std::vector<PointForce>& forces);

    // First unknown that may be loaded.
    [[nodiscard]] int begin(int m) const;
    // Adds factor times the load of harmonic m: rows are families A and B (for m = 0 B stays as it is), columns the
    // unknowns from begin(m) on in the layout (interior, ring).
    void add(int m, double factor, Eigen::Ref<Eigen::Matrix2Xd> load) const;

  private:
    // Of one force, on its element's unknowns: four shape functions (end, value or slope) by field.
    struct Force {
        int element = 0;
        std::size_t angle = 0;
        double blur = 0.0;                       // spread over the radius
        Eigen::Array<double, 4, 3> even;         // u, w, b_s, with cos mθ in family A
        Eigen::Array<double, 4, 2> odd, turned;  // v, b_θ: with sin mθ, and with m cos mθ
    };
    [[nodiscard]] Force prepare(const PointForce& force) const;

    const ShellSide* side_;
    std::vector<double> angles_;
    std::vector<Force> forces_;  // by element
};

}  // namespace graftwright
