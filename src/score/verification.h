// A verification case: prescribed tensions and constants, one pressure, for comparison with 3-D solids.
//
// Every fibre is held from the undeformed place while it presses, without a bound on friction; no
// tying order, no locked threads, no fluid in the wound. Curvature: full quartic fit of the deformed
// outer surface over the central 3.2 mm (optics/central_fit.h).
#pragma once

#include <optional>
#include <string>

#include "closure/tying.h"
#include "files/ring_case.h"

namespace graftwright {

struct RingResult {
    ClosureStatus status;
    // Present where status.converged:
    std::optional<double> mean_D, cylinder_D, steep_axis_deg;
    std::optional<double> least_seal_kPa;  // largest contact pressure over the depth, least of that over θ
    std::optional<double> mean_u_mm, mean_bs_rad, mean_contact_kPa;
    std::optional<double> mean_v_mm;  // host − donor, + counter-clockwise: how far oblique and running threads turn the donor
};

[[nodiscard]] RingResult solve_ring(const RingCase& ring, int harmonics = 64);

// Its parts, for threads that a ring case does not know: the eye at the case's pressure, its wound's edges, a bite, and
// what is read from a closure once tensions have been prescribed there.
[[nodiscard]] WoundModel ring_model(const RingCase& ring, int harmonics = 64);
[[nodiscard]] WoundInterface ring_interface(const RingCase& ring, const WoundModel& model);
[[nodiscard]] BiteGeometry ring_bite(const RingCase& ring, const RingBite& bite);
[[nodiscard]] RingResult ring_result(const Closure& closure);

}  // namespace graftwright
