// The front of the donor after a closure: a smooth surface with derivatives, in the keratometer's frame.
//
// Outer surface = outer sphere (mid radius + t/2) moved by the shell's displacement at z = t/2,
//   (u + z b_s, v + z b_θ, w), and thickened or thinned by Poisson's effect:
//   w gains −ν/(1−ν)[(ε_s+ε_θ) z + (χ_s+χ_θ) z²/2]   (about 0.1 D).
// Along s each amplitude is a quintic Hermite interpolant of its nodal values, slopes and second
// derivatives (means of the two elements that meet there), so the surface has continuous second
// derivatives, and at the apex those that a smooth field has. Vertex: the point under the pupil's centre
// (the pupil is the origin of bed_shift); the frame's z is the normal there, tilt of the donor included.
// Linear kinematics: displacements are small against the radius. mm, rad.
#pragma once

#include <vector>

#include <Eigen/Core>

#include "closure/wound_model.h"
#include "optics/surface.h"

namespace graftwright {

// Harmonics beyond this leave nothing in the optical zone: their displacement dies out toward the apex
// as (r/a)^m, at r = 2 mm by 1e-7.
inline constexpr int kOpticalHarmonics = 24;

class DeformedDonor final : public AnteriorSurface {
  public:
    // displacement: WoundModel::donor_displacement. pupil: the pupil's centre in the graft's frame
    // (x toward 0°, y toward 90°), i.e. minus the bed's shift.
    DeformedDonor(const WoundModel& model, const std::vector<Eigen::VectorXd>& displacement,
                  Eigen::Vector2d pupil = Eigen::Vector2d::Zero());

    [[nodiscard]] SurfaceSample sample(double x, double y) const override;
    [[nodiscard]] double radius_covered() const override { return radius_covered_; }

    // Centre of the vertex frame and its axes (columns x, y, z) in the eye's frame.
    [[nodiscard]] const Eigen::Vector3d& vertex() const { return vertex_; }
    [[nodiscard]] const Eigen::Matrix3d& axes() const { return axes_; }

  private:
    // Position and its first and second derivatives by s and θ.
    struct Jet {
        Eigen::Vector3d x, s, t, ss, st, tt;
    };
    [[nodiscard]] Jet jet(double s, double theta) const;
    void find_highest_harmonics();
    void take_nodes(const WoundModel& model, const std::vector<Eigen::VectorXd>& displacement);
    [[nodiscard]] Eigen::Vector3d amplitude(std::size_t component, std::size_t column, std::size_t element,
                                            const Eigen::Matrix<double, 6, 3>& basis) const;

    double outer_radius_ = 0.0, mid_radius_ = 0.0;
    int harmonics_ = 0;
    std::vector<double> nodes_;  // s
    // By component (u, v, w) and column: value, slope and second derivative (rows) at the nodes.
    std::array<std::vector<Eigen::Matrix3Xd>, 3> amplitudes_;
    std::vector<int> highest_;  // by element: the last harmonic that is anything there
    double radius_covered_ = 0.0;
    Eigen::Vector3d vertex_ = Eigen::Vector3d::Zero();
    Eigen::Matrix3d axes_ = Eigen::Matrix3d::Identity();
};

}  // namespace graftwright
