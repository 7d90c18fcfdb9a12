// A strand of thread through or over one side of the wound: the forces it puts on the tissue, and how far it bends.
//
// A strand is a chain of places, the one at the needle's entry (or exit) first, the wound last. Of unit tension it
// presses on the tissue with (next tangent − last tangent) at each place, with the first tangent itself at the
// entry; at the wound it goes on along `beyond`, so the last force is (beyond − last tangent), and the forces of the
// whole strand sum to `beyond`. Spread along the circumference and the meridian as bite_path.h says. mm, rad, forces
// per newton.
#pragma once

#include <vector>

#include "shell/point_loads.h"

namespace graftwright {

inline constexpr double kThreadSpread = 0.15;   // mm, σ along the circumference
inline constexpr double kMeridianSpread = 0.1;  // mm, σ along the meridian

struct StrandPoint {
    double s, theta, z;
};

struct Strand {
    double length = 0.0;
    double turning = 0.0;                                     // sum of its bends, the one at the wound included
    Eigen::Vector3d first_tangent = Eigen::Vector3d::Zero();  // from the entry on, toward the wound
};

// Appends a strand's forces.
Strand add_strand(const Meridian& meridian, const std::vector<StrandPoint>& points, const Eigen::Vector3d& beyond,
                  std::vector<PointForce>& forces);
// Appends one force, given in space.
void add_force(const Meridian& meridian, const StrandPoint& point, const Eigen::Vector3d& force,
               std::vector<PointForce>& forces);
// Direction at a place of the wound's edge along the meridian toward the other side.
[[nodiscard]] Eigen::Vector3d across_the_wound(const Meridian& meridian, const StrandPoint& wound);
// Angle between two directions, 0 … π.
[[nodiscard]] double bend(const Eigen::Vector3d& a, const Eigen::Vector3d& b);

// One side of a bite: where it crosses the wound's edge, and the needle's way.
struct SideBite {
    double theta, skew, length, depth, entry;
};
// Needle's entry or exit on the outer surface.
[[nodiscard]] StrandPoint entry_place(const Meridian& meridian, const SideBite& bite);
// The strands of one side, entry first: along the surface under the path, and in the tissue.
[[nodiscard]] std::vector<StrandPoint> surface_places(const Meridian& meridian, const SideBite& bite);
[[nodiscard]] std::vector<StrandPoint> deep_places(const Meridian& meridian, const SideBite& bite);

}  // namespace graftwright
