// One side of the wound as a finite-element shell: unknowns, constraints, stiffness, fields.
//
// The unknowns of a harmonic are split into the interior and the wound ring, whose four values
// (u, v, w, b_s at the cut edge) come last; b_θ stays inside: the edge is free to twist. Constraints:
// apex regularity (fields bounded and smooth where r → 0: m = 0: U = V = W' = A = B = 0; m = 1:
// W = 0, U + V = 0, A + B = 0, other slopes 0; m ≥ 2: values 0; m ≥ 3 slopes 0 too); at the limbus
// U and W turn into each other, slopes are not shared; the sclera's end is held.
//
// Family A of harmonic m is (cos, sin, cos, cos, sin) mθ for (u, v, w, b_s, b_θ), family B
// (sin, −cos, sin, sin, −cos); the same matrices serve both. m = 0 holds U, W, A and the torsion V, B
// in one set, all constant in θ. mm, N, MPa, rad.
#pragma once

#include <array>
#include <vector>

#include <Eigen/Core>

#include "shell/envelope_cholesky.h"
#include "shell/meridian.h"
#include "shell/shell_element.h"
#include "shell/unknown_map.h"

namespace graftwright {

enum class Family { A, B };

// Amplitudes of the five fields and their derivatives by s (order 0, 1, 2) at one s.
struct FieldAmplitudes {
    std::array<double, kFields> value{}, slope{}, second{};
};

// What one lane holds: a harmonic at a chamber pressure (MPa).
struct LaneCase {
    int m = 0;
    double pressure = 0.0;
};
using LaneCases = std::array<LaneCase, kLanes>;

class ShellSide {
  public:
    ShellSide(const Meridian& meridian, double poisson_ratio, bool pressure_stiffens);

    [[nodiscard]] const Meridian& meridian() const { return meridian_; }
    [[nodiscard]] double poisson_ratio() const { return poisson_ratio_; }
    [[nodiscard]] int interior_size(int m) const { return map(m).interior_size; }
    [[nodiscard]] const UnknownMap& map(int m) const;
    // Harmonics from this one on have one map and may share lanes.
    [[nodiscard]] int first_alike() const { return static_cast<int>(maps_.size()) - 1; }

    // Stiffness in the layout (interior, ring). All lanes need one map.
    [[nodiscard]] EnvelopeMatrix stiffness(const LaneCases& lanes) const;
    [[nodiscard]] EnvelopeMatrix stiffness(int m, double pressure) const;  // the same in every lane

    [[nodiscard]] Eigen::VectorXd pressure_load() const;  // m = 0, per MPa of chamber pressure

    // Field amplitudes at s of a solution in the layout (interior, ring).
    [[nodiscard]] FieldAmplitudes fields(int m, double s, const Eigen::VectorXd& solution) const {
        return fields_in(meridian_.element_at(s), m, s, solution);
    }
    // The same as one element has them: second derivatives jump at nodes.
    [[nodiscard]] FieldAmplitudes fields_in(int element, int m, double s, const Eigen::VectorXd& solution) const;

  private:
    static constexpr int kDonorMaps = 4;  // by min(m, 3)

    Meridian meridian_;
    double poisson_ratio_;
    bool pressure_stiffens_;
    std::vector<ElementStiffness> stiffness_;
    std::vector<UnknownMap> maps_;  // host: one
};

}  // namespace graftwright
