// An eye condensed to its wound: everything about a scenario that no bite changes.
//
// Unknowns of a closure are the jumps (host − donor) of u, v, w, b_s around the ring, each a Fourier
// series: harmonic 0, then families A and B of m = 1 … M. With K_d, K_h the ring stiffnesses of a
// harmonic and loads F_d, F_h, eliminating the donor's ring at a given jump j leaves
//   stiffness S = K_h − K_h (K_d+K_h)⁻¹ K_h,   force on the jump = F_h − K_h (K_d+K_h)⁻¹ (F_d+F_h),
//   mutual compliance of two loads at a fixed jump = (F_d+F_h)ᵀ(K_d+K_h)⁻¹(F_d+F_h)' + interior part.
// The donor's four free motions leave S without stiffness, and under pressure a little below: tension at the
// cut edge tips a loose cap over. A faint foundation (kFoundation of the ring stiffness) keeps them determinate
// while no pressure acts and few bites hold the donor; closures report its force.
// All depend on pressure (it stiffens the shells): condensed at a few pressures and interpolated by a
// polynomial in p/(p + 200 mmHg), which is smooth up to the pressures asked for (error below 6e-4 of the
// ring stiffness and 3e-4 of a loop's compliance, tests/closure/wound_model_test.cpp). mm, N, MPa, rad. Const after
// construction: threads may share one.
#pragma once

#include <memory>
#include <vector>

#include <Eigen/Core>

#include "closure/bite_path.h"
#include "shell/condensed_side.h"

namespace graftwright {

inline constexpr double kFoundation = 1e-5;

struct WoundModelOptions {
    int harmonics = 64;
    int points = 256;  // around the wound, for contact and sealing
    // Chamber pressures at which the shells are condensed, six at most; a single one serves that pressure only.
    std::vector<double> levels_mmHg = {0.0, 15.0, 45.0, 90.0, 150.0};
    MeridianMesh mesh;
};

// Column of a harmonic in a (4 × 2M+1) ring matrix.
[[nodiscard]] inline Eigen::Index ring_column(int m, Family family) {
    return m == 0 ? 0 : (family == Family::A ? 2 * m - 1 : 2 * m);
}

using RingMatrix = Eigen::Matrix<double, kRingUnknowns, Eigen::Dynamic>;

// Numbers of the ring at every pressure level: a lane a level, a column an entry of a ring matrix.
using LaneRing = Eigen::Array<double, kLanes, Eigen::Dynamic>;
// One number a level, zero in lanes without a level.
using LevelWeights = Lanes;

// A load on both sides, reduced to the jumps at every pressure level.
struct WoundLoad {
    // By harmonic, half of the answer at a fixed jump: inside donor and host, and in the donor's ring columns of the
    // two glued together, L⁻¹(F_d + F_h), L Lᵀ = K_d + K_h. Empty where there is no load.
    struct Half {
        HalfResponse donor, host;
    };

    LaneRing jump_force;
    std::vector<Half> halves;

    // Σ over the levels of weight · force on the jumps.
    [[nodiscard]] RingMatrix jump_force_at(const LevelWeights& weights) const;
    // Mutual compliance of two loads at a fixed jump: of one harmonic, of all.
    [[nodiscard]] static Lanes compliance(const WoundLoad& a, const WoundLoad& b, std::size_t harmonic) {
        return HalfResponse::compliance(a.halves[harmonic].donor, b.halves[harmonic].donor) +
               HalfResponse::compliance(a.halves[harmonic].host, b.halves[harmonic].host);
    }
    [[nodiscard]] static Lanes compliance(const WoundLoad& a, const WoundLoad& b);
};

class WoundModel {
  public:
    WoundModel(const EyeShape& shape, const WoundModelOptions& options);

    [[nodiscard]] const EyeShape& shape() const { return shape_; }
    [[nodiscard]] int harmonics() const { return options_.harmonics; }
    [[nodiscard]] int points() const { return options_.points; }
    [[nodiscard]] Eigen::Index columns() const { return 2 * options_.harmonics + 1; }
    [[nodiscard]] const ShellSide& donor() const { return donor_; }
    [[nodiscard]] const ShellSide& host() const { return host_; }
    [[nodiscard]] std::size_t level_count() const { return levels_.size(); }
    [[nodiscard]] double level_pressure(std::size_t level) const { return levels_[level]; }
    // Highest pressure (MPa) the levels serve.
    [[nodiscard]] double highest_pressure() const { return levels_.back(); }

    // Weights of the levels at a pressure; they sum to one.
    [[nodiscard]] LevelWeights level_weights(double pressure) const;
    // S by harmonic, without the foundation.
    [[nodiscard]] const std::vector<Eigen::Matrix4d>& jump_stiffness(std::size_t level) const {
        return jump_stiffness_[level];
    }
    [[nodiscard]] const std::vector<Eigen::Matrix4d>& foundation() const { return foundation_; }
    // Per MPa of chamber pressure.
    [[nodiscard]] const WoundLoad& pressure_load() const { return pressure_load_; }
    // Loads of bites. Many at once cost less than one by one: each harmonic's factors pass the cache once.
    [[nodiscard]] std::vector<WoundLoad> reduce(const std::vector<const ThreadPath*>& paths) const;

    // The donor's whole displacement at a pressure: per column the layout of ShellSide, up to the
    // harmonic asked for.
    [[nodiscard]] std::vector<Eigen::VectorXd> donor_displacement(double pressure, const RingMatrix& jump,
                                                                  const std::vector<const ThreadPath*>& paths,
                                                                  const Eigen::VectorXd& tensions,
                                                                  int up_to_harmonic) const;

  private:
    // One harmonic, its lanes the pressure levels (the last of them again in the lanes that are left).
    struct Harmonic {
        CondensedLanes donor, host;
        // Row-major 4 × 4 a lane: K_h (K_d+K_h)⁻¹, and L of K_d+K_h = L Lᵀ with reciprocals on the diagonal.
        Eigen::Array<double, kLanes, kRingUnknowns * kRingUnknowns> host_share, glued_factor;
    };
    void condense();
    void reduce_harmonic(std::size_t m, HalfResponse donor, HalfResponse host, WoundLoad& result) const;
    [[nodiscard]] WoundLoad empty_load() const;

    EyeShape shape_;
    WoundModelOptions options_;
    ShellSide donor_;
    ShellSide host_;
    std::vector<double> levels_;  // MPa
    std::vector<Harmonic> harmonics_;
    std::vector<std::vector<Eigen::Matrix4d>> jump_stiffness_;  // by level and harmonic
    WoundLoad pressure_load_;
    std::vector<Eigen::Matrix4d> foundation_;
};

}  // namespace graftwright
