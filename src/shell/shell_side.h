// One side of the wound as a finite-element shell: unknowns, constraints, stiffness, loads, fields.
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

#include "shell/band_cholesky.h"
#include "shell/meridian.h"
#include "shell/shell_element.h"

namespace graftwright {

inline constexpr int kRingUnknowns = 4;  // u, v, w, b_s
enum class Family { A, B };

// A point force on the tissue, in the local frame at (s, θ), at height z above the mid-surface; in
// space it is spread along the circumference by a Gaussian of standard deviation `spread` (mm).
struct PointForce {
    double s = 0.0, theta = 0.0, z = 0.0;
    double along_meridian = 0.0, along_circumference = 0.0, along_normal = 0.0;
    double spread = 0.0;
};

// Amplitudes of the five fields and their derivatives by s (order 0, 1, 2) at one s.
struct FieldAmplitudes {
    std::array<double, kFields> value{}, slope{}, second{};
};

class ShellSide {
  public:
    ShellSide(const Meridian& meridian, double poisson_ratio, bool pressure_stiffens);

    [[nodiscard]] const Meridian& meridian() const { return meridian_; }
    [[nodiscard]] double poisson_ratio() const { return poisson_ratio_; }
    [[nodiscard]] int interior_size(int m) const { return map(m).interior_size; }

    // Stiffness of harmonic m at a chamber pressure (MPa): interior band, interior × ring, ring.
    struct Stiffness {
        BandMatrix interior;
        Eigen::MatrixXd coupling;  // interior_size × 4
        Eigen::Matrix4d ring;

        void add_scaled(const Stiffness& other, double factor);
    };
    [[nodiscard]] Stiffness stiffness(int m, double pressure) const;
    // The two parts it is made of: elastic + pressure · per_pressure.
    [[nodiscard]] Stiffness elastic_stiffness(int m) const { return assemble(m, false); }
    [[nodiscard]] Stiffness stiffness_per_pressure(int m) const { return assemble(m, true); }

    // Loads have the layout (interior, ring): size interior_size + 4.
    [[nodiscard]] Eigen::VectorXd pressure_load() const;  // m = 0, per MPa of chamber pressure
    void add_point_force(int m, Family family, const PointForce& force, Eigen::VectorXd& load) const;
    // The same for many forces and both families at once (columns A, B); for m = 0 column B stays zero.
    void add_point_forces(int m, const std::vector<PointForce>& forces, Eigen::MatrixX2d& load) const;

    // Field amplitudes at s of a solution in the layout (interior, ring).
    [[nodiscard]] FieldAmplitudes fields(int m, double s, const Eigen::VectorXd& solution) const {
        return fields_in(meridian_.element_at(s), m, s, solution);
    }
    // The same as one element has them: second derivatives jump at nodes.
    [[nodiscard]] FieldAmplitudes fields_in(int element, int m, double s, const Eigen::VectorXd& solution) const;

  private:
    struct Term {
        int unknown = -1;
        double factor = 0.0;
    };
    // Each local unknown of each element is a sum of at most two global ones.
    struct UnknownMap {
        int interior_size = 0;
        int bandwidth = 0;
        std::vector<std::array<std::array<Term, 2>, kElementUnknowns>> elements;
    };

    [[nodiscard]] const UnknownMap& map(int m) const;
    [[nodiscard]] Stiffness assemble(int m, bool pressure_part) const;
    [[nodiscard]] UnknownMap donor_map(int m) const;
    [[nodiscard]] UnknownMap host_map() const;
    static void close_map(UnknownMap& map);

    Meridian meridian_;
    double poisson_ratio_;
    bool pressure_stiffens_;
    std::vector<ElementStiffness> stiffness_;
    std::vector<UnknownMap> maps_;  // donor: by min(m, 3); host: one
};

}  // namespace graftwright
