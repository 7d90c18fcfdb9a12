// The strands that cross the wound, from the donor's edge to the host's: how long they are, and how they pull.
//
// A taut strand takes the straight way in space between its two ends, each at its own angle and depth:
//   Δ = Δ0 + D_h U_h − D_d U_d,   U = (u, v, w, b_s) of an edge, the Gaussian mean around the end's angle,
// Δ0 the way between the undeformed ends, lengthened along the meridian by the free thread at the wound, ℓ = 0.3 mm,
// less the interference. With y along the mean meridian and s across it,
//   L = √(Y(y)² + |s|²).
// The loop's own forces (bite_path.h) pull along the meridian as a strand does that crosses it at a right angle, b·U;
// so a crossing lengthens its loop by
//   L − ℓ − (b_h·U_h − b_d·U_d),
// all from one energy: a strand of tension T never pulls with more than T in any direction, and what it pulls sideways
// it no longer pulls shut. At small angles this is √((ℓ+g)² + step² + slip²) − (ℓ+g) with
//   g = [u] + z [b_s] − δ,   step = [w] + (d_g − d_h) − (t_g − t_h)/2,   slip = [v] + a (θ_h − θ_g).
// Its ends lie ℓ/2 behind the edges, where they pull up and down too: a couple by which a slanting strand leaves none,
// taken as the strand lies when the edges just touch. (Bites of unequal depth: without it 0.05 and 0.51 D where solids
// have 0.27 both ways. The like about the normal, a fortieth of an oblique strand's turning moment, is left out; so is
// the twist of the cut edge, b_θ, which the ring does not carry.) A surface strand lies over both fronts and takes no
// notice of a step. Where the edges are squashed into each other by more than ℓ (y < 0) no thread is left between them:
// Y, convex and smooth, ends at kLeastCrossing, and the strand pulls no further; so L stays a convex function of the
// displacements wherever an iteration may stray. ℓ is the design's choice. mm, N, rad.
#pragma once

#include <vector>

#include <Eigen/Core>

#include "closure/bite_path.h"
#include "closure/run_path.h"
#include "closure/wound_interface.h"

namespace graftwright {

inline constexpr double kCrossingLength = 0.3;  // ℓ, mm: free thread at the wound
inline constexpr double kLeastCrossing = 0.02;  // mm; Y(y) = y from twice as much on

// u, v, w, b_s of the host's edge, then of the donor's, where a crossing's ends lie.
using EndValues = Eigen::Matrix<double, 2 * kRingUnknowns, 1>;

// Where an end meets its edge, as weights of the ring's points (they sum to one) and as rows over its harmonics.
struct EdgeEnd {
    int first = 0;  // point of the first weight, 0 … points − 1; they go on counter-clockwise
    std::vector<double> weight;
    Eigen::VectorXd even, odd;  // of u, w, b_s; of v
};

// One strand: axes along the mean meridian (donor to host), counter-clockwise, outward.
struct CrossingStrand {
    Eigen::Vector3d apart;                                // Δ0
    Eigen::Matrix<double, 3, 2 * kRingUnknowns> by_ends;  // (D_h, −D_d)
    EndValues along;                                      // (b_h, −b_d)
};

// L with its derivatives by Δ.
struct StrandLength {
    double length = 0.0;
    Eigen::Vector3d gradient;
    Eigen::Matrix3d curvature;
};
[[nodiscard]] StrandLength strand_length(const Eigen::Vector3d& apart);

struct Crossing {
    EdgeEnd host, donor;
    std::vector<CrossingStrand> strands;
    // The threads that pull here: the first alone, or two with half each.
    Eigen::Index first = 0, second = -1;

    [[nodiscard]] double share() const { return second < 0 ? 1.0 : 0.5; }
    [[nodiscard]] EndValues ends(const RingMatrix& points) const;
    // By how much the strands lengthen a loop, and that by the ends.
    [[nodiscard]] double elongation(const EndValues& ends, EndValues& gradient) const;
    // Second derivatives of the elongation.
    [[nodiscard]] Eigen::Matrix<double, 8, 8> curvature(const EndValues& ends) const;
    // Adds forces at the ends to those on the points, or to those on the harmonics of both edges.
    void add_to_points(const EndValues& forces, RingMatrix& points) const;
    void add_to_edges(const EndValues& forces, Eigen::Ref<RingMatrix> edges) const;
};

// Of a single bite both strands; `deep_only`: of a running thread's bite.
[[nodiscard]] Crossing bite_crossing(const BiteGeometry& bite, const WoundModel& model, const WoundInterface& interface,
                                     bool deep_only = false);
// Of a running thread, where a span crosses the wound on the surface.
[[nodiscard]] Crossing span_crossing(const SpanOnSurface& span, const WoundModel& model,
                                     const WoundInterface& interface);

}  // namespace graftwright
