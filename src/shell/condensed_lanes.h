// One side of the wound condensed to the wound ring, six harmonics or pressures side by side.
//
// With x the interior unknowns, q the ring (u, v, w, b_s), K_ii = L Lᵀ and loads (f, g):
//   ring stiffness = K_rr − C Cᵀ with C = K_ri L⁻ᵀ,   ring load = g − C L⁻¹ f,   x = L⁻ᵀ (L⁻¹ f − Cᵀ q).
// A load's own compliance at a fixed ring is fᵀ K_ii⁻¹ f = |L⁻¹ f|². mm, N, MPa.
#pragma once

#include <Eigen/Core>

#include "shell/envelope_cholesky.h"
#include "shell/shell_side.h"

namespace graftwright {

// L⁻¹ f of two loads (families A and B) from the first unknown that may be loaded; the last four columns are the
// ring's.
struct HalfResponse {
    Eigen::Index begin = 0;
    LanePairs values;

    [[nodiscard]] static HalfResponse of(const Eigen::Matrix2Xd& load, Eigen::Index begin);  // in every lane
    // Both families of one lane; `load` holds the same unknowns.
    void set_lane(int lane, const Eigen::Matrix2Xd& load) {
        values.row(lane) = load.row(0).array();
        values.row(kLanes + lane) = load.row(1).array();
    }
    // Of the ring, component by component.
    [[nodiscard]] Eigen::Block<LanePairs, 2 * kLanes, kRingUnknowns, true> ring() {
        return values.rightCols<kRingUnknowns>();
    }
    // Σ over the families of the products of all columns.
    [[nodiscard]] static Lanes compliance(const HalfResponse& a, const HalfResponse& b);
};

class CondensedLanes {
  public:
    CondensedLanes(const ShellSide& side, const LaneCases& lanes);

    // Is the side, its ring held, stable at this lane's pressure? If not, nothing else of the lane means anything.
    [[nodiscard]] bool stable(int lane) const { return factor_.ok(lane); }
    [[nodiscard]] Eigen::Matrix4d ring_stiffness(int lane) const { return factor_.complement(lane); }
    // In place, from loads (f, g) to (L⁻¹ f, the load on the ring).
    void reduce(HalfResponse& load) const;
    // In place, from (L⁻¹ f, q) of all unknowns to the whole solution (interior, ring).
    void expand(LanePairs& half) const { factor_.backward(half); }

  private:
    EnvelopeCholesky factor_;
};

}  // namespace graftwright
