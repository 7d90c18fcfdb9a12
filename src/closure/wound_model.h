// An eye condensed to its wound: everything about a scenario that no bite changes.
//
// Unknowns of a closure are both edges of the wound: the jumps j (host − donor) of u, v, w, b_s around the ring and the
// donor's own edge d, each a Fourier series: harmonic 0, then families A and B of m = 1 … M. With K_d, K_h the ring
// stiffnesses of a harmonic and F_d, F_h what loads leave on the rings, the host's edge being d + j,
//   energy = ½ dᵀ K_d d + ½ (d+j)ᵀ K_h (d+j) − F_hᵀ j − (F_d+F_h)ᵀ d − …;
// two loads move each other's places at fixed edges by their mutual compliance inside donor and host. Contact sees
// the jumps alone; a thread that crosses the wound obliquely sees both edges.
// The donor's four free motions meet no resistance but the bites', and under pressure a little less than none: tension
// at the cut edge tips a loose cap over. A faint foundation under the jumps (kFoundation of the ring stiffness) keeps
// them determinate while no pressure acts and few bites hold the donor; closures report its force.
//
// All depend on pressure (it stiffens the shells): condensed at a few pressures and interpolated by a polynomial in
// p/(p + 200 mmHg), which is smooth up to the pressures asked for (error below 6e-4 of the ring stiffness and 3e-4 of a
// loop's compliance, tests/closure/wound_model_test.cpp).
//
// A soft eye under enough pressure has no stable balance, whatever the
// bites do: donor and host glued together give way (stiffness is linear in p, so below that pressure it never does),
// and towards it every displacement grows without bound where tissue would stiffen. So an eye is condensed only up to
// kStableShare of it: highest_pressure(), which a closure does not exceed. mm, N, MPa, rad. Const after construction:
// threads may share one.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include <Eigen/Core>

#include "closure/bite_path.h"
#include "shell/condensed_lanes.h"

namespace graftwright {

inline constexpr double kFoundation = 1e-5;
// Of the pressure at which an eye gives way; see WoundModel.
inline constexpr double kStableShare = 0.6;

struct WoundModelOptions {
    int harmonics = 64;
    int points = 256;  // around the wound, for contact and sealing
    // Chamber pressures at which the shells are condensed, five at most, the highest last; a single one serves that
    // pressure only. Where the eye can't stand the highest, all are lowered in proportion.
    std::vector<double> levels_mmHg = {0.0, 15.0, 45.0, 90.0, 150.0};
    MeridianMesh mesh;
};

// Column of a harmonic in a (4 × 2M+1) ring matrix. Matrices of both edges have the jumps' columns, then the donor's
// edge.
[[nodiscard]] inline Eigen::Index ring_column(int m, Family family) {
    return m == 0 ? 0 : (family == Family::A ? 2 * m - 1 : 2 * m);
}

using RingMatrix = Eigen::Matrix<double, kRingUnknowns, Eigen::Dynamic>;

// Numbers of the ring at every pressure level: a lane a level, a column an entry of a ring matrix.
using LaneRing = Eigen::Array<double, kLanes, Eigen::Dynamic>;
// One number a level, zero in lanes without a level.
using LevelWeights = Lanes;

// A load on both sides, reduced to the edges at every pressure level.
struct WoundLoad {
    // By harmonic, half of the answer at fixed edges, inside donor and host. Empty where there is no load.
    struct Half {
        HalfResponse donor, host;
    };

    LaneRing edge_force;
    std::vector<Half> halves;

    // Σ over the levels of weight · force on both edges: F_h, then F_d + F_h.
    [[nodiscard]] RingMatrix edge_force_at(const LevelWeights& weights) const;
    // Mutual compliance of two loads at fixed edges: of one harmonic, of all.
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
    // Highest pressure (MPa) that the model serves.
    [[nodiscard]] double highest_pressure() const { return levels_.back(); }
    // Is that less than was asked, since the eye can't stand more?
    [[nodiscard]] bool limited() const { return limited_; }

    // Weights of the levels at a pressure; they sum to one.
    [[nodiscard]] LevelWeights level_weights(double pressure) const;
    // K_d and K_h by harmonic.
    [[nodiscard]] const std::vector<Eigen::Matrix4d>& donor_stiffness(std::size_t level) const {
        return donor_stiffness_[level];
    }
    [[nodiscard]] const std::vector<Eigen::Matrix4d>& host_stiffness(std::size_t level) const {
        return host_stiffness_[level];
    }
    // On the jumps of harmonics 0 and 1.
    [[nodiscard]] const std::array<Eigen::Matrix4d, 2>& foundation() const { return foundation_; }
    // Per MPa of chamber pressure.
    [[nodiscard]] const WoundLoad& pressure_load() const { return pressure_load_; }
    // Loads of bites. Many at once cost less than one by one: each harmonic's factors pass the cache once.
    [[nodiscard]] std::vector<WoundLoad> reduce(const std::vector<const ThreadPath*>& paths) const;

    // The donor's whole displacement at a pressure and its edge's: per column the layout of ShellSide, up to the
    // harmonic asked for.
    [[nodiscard]] std::vector<Eigen::VectorXd> donor_displacement(double pressure,
                                                                  const Eigen::Ref<const RingMatrix>& donor_edge,
                                                                  const std::vector<const ThreadPath*>& paths,
                                                                  const Eigen::VectorXd& tensions,
                                                                  int up_to_harmonic) const;

  private:
    // One harmonic, its lanes the pressure levels and, in those that are left, what lies beyond the highest.
    struct Harmonic {
        CondensedLanes donor, host;
    };
    // Donor and host glued together, at this lane's pressure.
    [[nodiscard]] static bool stable(const Harmonic& harmonic, int lane);
    // At levels_. False, and nothing condensed, where the eye does not stand the highest, and beyond that what
    // interpolation needs.
    [[nodiscard]] bool condense();
    void lower_levels();
    // How many of these rising pressures the eye stands.
    [[nodiscard]] std::size_t count_stable(const std::array<double, kLanes>& pressures) const;
    void reduce_harmonic(std::size_t m, HalfResponse donor, HalfResponse host, WoundLoad& result) const;
    [[nodiscard]] WoundLoad empty_load() const;

    EyeShape shape_;
    WoundModelOptions options_;
    ShellSide donor_;
    ShellSide host_;
    std::vector<double> levels_;  // MPa
    bool limited_ = false;
    std::vector<Harmonic> harmonics_;
    std::vector<std::vector<Eigen::Matrix4d>> donor_stiffness_, host_stiffness_;  // by level and harmonic
    WoundLoad pressure_load_;
    std::array<Eigen::Matrix4d, 2> foundation_;
};

}  // namespace graftwright
