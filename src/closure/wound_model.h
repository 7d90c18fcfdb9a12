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
    // Chamber pressures at which the shells are condensed; a single one serves that pressure only.
    std::vector<double> levels_mmHg = {0.0, 15.0, 45.0, 90.0, 150.0};
    MeridianMesh mesh;
};

// Column of a harmonic in a (4 × 2M+1) ring matrix.
[[nodiscard]] inline Eigen::Index ring_column(int m, Family family) {
    return m == 0 ? 0 : (family == Family::A ? 2 * m - 1 : 2 * m);
}

using RingMatrix = Eigen::Matrix<double, kRingUnknowns, Eigen::Dynamic>;

// A load on both sides, reduced to the jumps at one pressure level.
struct WoundLoad {
    RingMatrix jump_force;
    RingMatrix glued_half;                  // L⁻¹(F_d + F_h), L Lᵀ = K_d + K_h
    std::vector<HalfResponse> donor, host;  // interior parts, by harmonic

    [[nodiscard]] static double compliance(const WoundLoad& a, const WoundLoad& b);
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
    [[nodiscard]] double level_pressure(std::size_t level) const { return levels_[level].pressure; }
    // Highest pressure (MPa) the levels serve.
    [[nodiscard]] double highest_pressure() const { return levels_.back().pressure; }

    // Weights of the levels at a pressure; they sum to one.
    [[nodiscard]] Eigen::VectorXd level_weights(double pressure) const;
    [[nodiscard]] const std::vector<Eigen::Matrix4d>& jump_stiffness(std::size_t level) const {
        return levels_[level].jump_stiffness;
    }
    [[nodiscard]] const std::vector<Eigen::Matrix4d>& foundation() const { return foundation_; }
    // Per MPa of chamber pressure.
    [[nodiscard]] const WoundLoad& pressure_load(std::size_t level) const { return levels_[level].pressure_load; }
    // A bite's load at every level.
    [[nodiscard]] std::vector<WoundLoad> reduce(const ThreadPath& path) const;

    // The donor's whole displacement at a pressure: per column the layout of ShellSide, up to the
    // harmonic asked for.
    [[nodiscard]] std::vector<Eigen::VectorXd> donor_displacement(double pressure, const RingMatrix& jump,
                                                                  const std::vector<const ThreadPath*>& paths,
                                                                  const Eigen::VectorXd& tensions,
                                                                  int up_to_harmonic) const;

  private:
    struct Level {
        double pressure = 0.0;
        std::vector<CondensedHarmonic> donor, host;
        std::vector<Eigen::Matrix4d> jump_stiffness;
        std::vector<Eigen::Matrix4d> host_share;    // K_h (K_d+K_h)⁻¹
        std::vector<Eigen::Matrix4d> glued_factor;  // L
        WoundLoad pressure_load;
    };
    // Families A and B of one harmonic, layout (interior, ring).
    struct HarmonicLoads {
        Eigen::MatrixX2d donor, host;
    };
    [[nodiscard]] HarmonicLoads harmonic_loads(const ThreadPath& path, int m) const;
    void condense();
    void reduce_harmonic(const Level& level, int m, const HarmonicLoads& loads, WoundLoad& result) const;
    [[nodiscard]] WoundLoad empty_load() const;

    EyeShape shape_;
    WoundModelOptions options_;
    ShellSide donor_;
    ShellSide host_;
    std::vector<Level> levels_;
    std::vector<Eigen::Matrix4d> foundation_;
};

}  // namespace graftwright
