// The way of a running thread: a closed loop through its bites, taken apart into spans.
//
// The thread enters each bite on the donor side, is radial in the tissue, leaves on the host side, and goes to the
// next bite on the surface, obliquely, along a great circle. A span is what lies between the wound crossings of two
// neighbours in the tissue: the host half of bite k, the surface, the donor half of bite k+1. Its forces on the tissue
// are those of strand.h, on the surface along the oblique way; where it ends at a wound crossing it passes its tension
// on to the next span, so that a span alone is held there by the tissue, donor and host half each. The forces of one
// span thus sum to zero over both sides, and where all tensions are equal the held ends of neighbours cancel.
// A run of a single bite is the loop of a single bite. mm, rad, forces per newton of tension.
#pragma once

#include <vector>

#include "closure/bite_path.h"

namespace graftwright {

// What a span has beside its forces.
struct SpanOnSurface {
    double crossing_theta = 0.0;  // where it crosses the wound on the surface
    double obliquity = 0.0;       // its direction there against the meridian, 0 … π/2
    Eigen::Vector3d outward;      // that direction in space, from donor to host
    // Bends of the thread, for belt friction: in the host half of its first bite and in the donor half of its second,
    // each with what it bends on the surface up to the crossing.
    double turning_from = 0.0, turning_to = 0.0;
};

struct SpanPath : SpanOnSurface {
    ThreadPath path;
};

[[nodiscard]] SpanPath span_path(const BiteGeometry& from, const BiteGeometry& to, const Meridian& donor,
                                 const Meridian& host);

}  // namespace graftwright
