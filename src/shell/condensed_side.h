// One side of the wound, one harmonic, condensed to the wound ring at one chamber pressure.
//
// With x the interior unknowns, q the ring (u, v, w, b_s) and loads (f, g):
//   x = modes·q + K_ii⁻¹ f,   ring stiffness = K_rr + K_ri·modes,   ring load = g + modesᵀ f.
// A load's own compliance at a fixed ring is fᵀ K_ii⁻¹ f. mm, N, MPa.
#pragma once

#include <Eigen/Core>

#include "shell/band_cholesky.h"
#include "shell/shell_side.h"

namespace graftwright {

// L⁻¹ f of two loads (rows: families A and B) from the first entry that is not zero in both.
struct HalfResponse {
    Eigen::Index begin = 0;
    Eigen::Matrix2Xd values;

    // Σ over the families of fᵀ K_ii⁻¹ g, on the same side, harmonic and pressure.
    [[nodiscard]] static double compliance(const HalfResponse& a, const HalfResponse& b);
};

class CondensedHarmonic {
  public:
    // A pressure at which the shell buckles inward (negative enough) is our bug: it aborts.
    CondensedHarmonic(const ShellSide& side, int m, double pressure) : CondensedHarmonic(side.stiffness(m, pressure)) {}
    explicit CondensedHarmonic(ShellSide::Stiffness stiffness);

    [[nodiscard]] const Eigen::Matrix4d& ring_stiffness() const { return ring_stiffness_; }
    // load: layout (interior, ring); two columns: families A and B.
    [[nodiscard]] Eigen::Vector4d ring_load(const Eigen::VectorXd& load) const {
        return load.tail<kRingUnknowns>() + modes_.transpose() * load.head(modes_.rows());
    }
    [[nodiscard]] Eigen::Matrix<double, kRingUnknowns, 2> ring_load(const Eigen::MatrixX2d& load) const;
    // L⁻¹ f of the interior part: inner products of two of these are compliances at a fixed ring.
    [[nodiscard]] HalfResponse half_response(const Eigen::MatrixX2d& load) const;
    [[nodiscard]] HalfResponse half_response(const Eigen::VectorXd& load) const;
    // The whole solution (interior, ring) for a ring displacement and a load.
    [[nodiscard]] Eigen::VectorXd solution(const Eigen::Vector4d& ring, const Eigen::VectorXd& load) const;

  private:
    BandCholesky factor_;
    Eigen::MatrixXd modes_;
    Eigen::Matrix4d ring_stiffness_;
};

}  // namespace graftwright
