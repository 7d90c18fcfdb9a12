// The donor's edge where jumps and loads are given: donor and host glued together at those jumps.
#pragma once

#include <Eigen/LU>

#include "closure/closure_system.h"

namespace graftwright::scenes {

[[nodiscard]] inline RingMatrix donor_edge(const ReducedSystem& system, const RingMatrix& jump,
                                           const Eigen::VectorXd& tensions) {
    RingMatrix loads = system.pressure_force;
    loads.reshaped() += system.loop_force * tensions;
    RingMatrix edge(kRingUnknowns, jump.cols());
    for (Eigen::Index c = 0; c < jump.cols(); ++c) {
        const auto m = static_cast<std::size_t>((c + 1) / 2);
        edge.col(c) = (system.donor[m] + system.host[m])
                          .partialPivLu()
                          .solve(loads.col(jump.cols() + c) - system.host[m] * jump.col(c));
    }
    return edge;
}

// Stiffness that the jumps of a harmonic meet where the donor's edge is free to follow.
[[nodiscard]] inline Eigen::Matrix4d jump_stiffness(const WoundModel& model, std::size_t level, int m) {
    const Eigen::Matrix4d &donor = model.donor_stiffness(level)[static_cast<std::size_t>(m)],
                          &host = model.host_stiffness(level)[static_cast<std::size_t>(m)];
    return host - host * (donor + host).partialPivLu().solve(host);
}

}  // namespace graftwright::scenes
