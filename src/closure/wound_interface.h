// What donor and host edge do to each other: unilateral contact through the thickness, friction, fluid.
//
// Fibres (θ_j, z_k): `points` angles, five Gauss points through the thinner wall, weight h_k,
// which counts the arc's growth with z, 1 + z/R.
//   gap = [u] + z [b_s] − δ(θ);  squash x = −gap;  solid pressure = k_c max(0, x).
// The law is piecewise linear and is solved as it stands: no smoothing, hence no width to halve.
// Where fluid of pressure f stands between the faces the traction is max(f, k_c x): the solid carries
// what exceeds the fluid, and a fibre changes hands without a jump.
// Tangential: while a fibre presses, changes of ([v], [w]) since it first pressed meet k_t, bounded by
// µ · solid pressure. The bound and the set of held fibres lag by one pass, so that each pass is the
// minimum of a convex energy; passes repeat until they no longer change.
// δ is the radial interference, donor radius − bed radius, unchanged along the meridian; cut faces are
// square to the surface (a tilted blade is not modelled). mm, N, MPa, rad.
#pragma once

#include <array>

#include <Eigen/Core>

#include "closure/wound_model.h"

namespace graftwright {

inline constexpr int kFibres = 5;

// Films between the faces are never thinner: they are rough (the design's choice), mm.
inline constexpr double kThinnestFilm = 0.5e-3;

struct InterfaceConstants {
    double k_c = 1.0;       // MPa/mm: E/(1 mm), E the mean of both sides; local squash of the edge
    double k_t = 0.3;       // MPa/mm
    double friction = 0.3;  // µ, our choice (no measurement found: figures T9-06)
};

using FibreArray = Eigen::Array<double, kFibres, Eigen::Dynamic>;
using FibreMask = Eigen::Array<bool, kFibres, Eigen::Dynamic>;

// What the interface remembers from load step to load step.
struct FibreState {
    FibreArray fluid;               // pressure of fluid between the faces
    FibreMask held;                 // meets tangential resistance
    FibreArray anchor_v, anchor_w;  // jumps at which the resistance is zero
    FibreArray bound;               // largest tangential traction
};

// Jumps at the points of the ring: rows u, v, w, b_s.
using PointJumps = Eigen::Matrix<double, kRingUnknowns, Eigen::Dynamic>;

class WoundInterface {
  public:
    WoundInterface(const WoundModel& model, const InterfaceConstants& constants, Eigen::VectorXd interference);

    [[nodiscard]] int points() const { return static_cast<int>(interference_.size()); }
    [[nodiscard]] double theta(int point) const;
    [[nodiscard]] const InterfaceConstants& constants() const { return constants_; }
    [[nodiscard]] const Eigen::VectorXd& interference() const { return interference_; }
    [[nodiscard]] double z(int fibre) const { return z_[static_cast<std::size_t>(fibre)]; }
    [[nodiscard]] double depth_weight(int fibre) const { return h_[static_cast<std::size_t>(fibre)]; }
    [[nodiscard]] double wall() const { return wall_; }  // thickness of the thinner side
    [[nodiscard]] double arc() const { return arc_; }    // of the ring, one point's share
    // Bases at the points: of u, w, b_s (even) and of v (odd), points × columns.
    [[nodiscard]] const Eigen::MatrixXd& even() const { return even_; }
    [[nodiscard]] const Eigen::MatrixXd& odd() const { return odd_; }
    // Bases at any angle, each harmonic damped by exp(−½(mσ/a)²) where spread σ > 0.
    [[nodiscard]] Eigen::VectorXd even_row(double theta, double spread) const;
    [[nodiscard]] Eigen::VectorXd odd_row(double theta, double spread) const;

    [[nodiscard]] PointJumps at_points(const Eigen::Ref<const RingMatrix>& jump) const;
    // Jumps and donor's edge side by side.
    [[nodiscard]] RingMatrix edges_at_points(const RingMatrix& edges) const;
    // Transpose of at_points with the arc as weight: point forces (per mm of ring) to harmonics.
    [[nodiscard]] RingMatrix to_harmonics(const PointJumps& forces) const;

    [[nodiscard]] double gap(const Eigen::Ref<const PointJumps>& jumps, int point, int fibre) const {
        return jumps(0, point) + z(fibre) * jumps(3, point) - interference_[point];
    }
    [[nodiscard]] double solid_pressure(const Eigen::Ref<const PointJumps>& jumps, int point, int fibre) const {
        const double squash = -gap(jumps, point, fibre);
        return squash > 0.0 ? constants_.k_c * squash : 0.0;
    }

    [[nodiscard]] FibreState fresh_state() const;

    // Energy, force on the jumps (−dE/dj, per mm of ring) and tangent of the ring at given jumps.
    // tangent rows: uu, ub, bb, vv, vw, ww.
    struct Response {
        double energy = 0.0;
        PointJumps force;
        Eigen::Matrix<double, 6, Eigen::Dynamic> tangent;
    };
    void respond(const Eigen::Ref<const PointJumps>& jumps, const FibreState& state, bool with_tangent,
                 Response& out) const;

    // After a solve: which fibres are held and how hard. Returns how much of the tangential bound
    // changed, as a fraction of its sum.
    double update_bounds(const Eigen::Ref<const PointJumps>& jumps, FibreState& state) const;
    // End of a load step: fibres that slid carry their anchor along.
    void carry_anchors(const Eigen::Ref<const PointJumps>& jumps, FibreState& state) const;

  private:
    InterfaceConstants constants_;
    Eigen::VectorXd interference_;
    double radius_ = 0.0, wall_ = 0.0, arc_ = 0.0;
    int harmonics_ = 0;
    std::array<double, kFibres> z_{}, h_{};
    Eigen::MatrixXd even_, odd_;
};

}  // namespace graftwright
