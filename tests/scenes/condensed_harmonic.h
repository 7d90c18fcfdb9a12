// One harmonic of one side at one pressure by itself, and loads family by family: what the program works six at a time.
#pragma once

#include <Eigen/Core>

#include "shell/condensed_lanes.h"
#include "shell/point_loads.h"

namespace graftwright::scenes {

// Layout (interior, ring).
[[nodiscard]] inline Eigen::VectorXd no_load(const ShellSide& side, int m) {
    return Eigen::VectorXd::Zero(side.map(m).size());
}

inline void add_point_force(const ShellSide& side, int m, Family family, const PointForce& force,
                            Eigen::VectorXd& load) {
    Eigen::Matrix2Xd both = Eigen::Matrix2Xd::Zero(2, load.size());
    PointLoads(side, {force}).add(m, 1.0, both);
    load += both.row(family == Family::A ? 0 : 1).transpose();
}

class CondensedHarmonic {
  public:
    CondensedHarmonic(const ShellSide& side, int m, double pressure) : lanes_(side, all({m, pressure})) {}

    [[nodiscard]] Eigen::Matrix4d ring_stiffness() const { return lanes_.ring_stiffness(0); }
    [[nodiscard]] Eigen::Vector4d ring_load(const Eigen::VectorXd& load) const {
        return half_response(load).ring().row(0).matrix().transpose();
    }
    [[nodiscard]] Eigen::VectorXd solution(const Eigen::Vector4d& ring, const Eigen::VectorXd& load) const {
        HalfResponse half = half_response(load);
        half.ring().row(0) = ring.transpose().array();
        lanes_.expand(half.values);
        return half.values.row(0).matrix().transpose();
    }
    // fᵀ K_ii⁻¹ g.
    [[nodiscard]] double compliance(const Eigen::VectorXd& f, const Eigen::VectorXd& g) const {
        HalfResponse one = half_response(f), other = half_response(g);
        one.ring().setZero();
        return HalfResponse::compliance(one, other)[0];
    }

  private:
    static LaneCases all(const LaneCase& one) {
        LaneCases lanes;
        lanes.fill(one);
        return lanes;
    }
    [[nodiscard]] HalfResponse half_response(const Eigen::VectorXd& load) const {
        Eigen::Matrix2Xd both = Eigen::Matrix2Xd::Zero(2, load.size());
        both.row(0) = load.transpose();
        HalfResponse half = HalfResponse::of(both, 0);
        lanes_.reduce(half);
        return half;
    }

    CondensedLanes lanes_;
};

}  // namespace graftwright::scenes
