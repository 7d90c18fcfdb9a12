// Does the wound hold? Chamber pressure raised step by step; where it opens, and what then runs out.
//
// A place is sealed at chamber pressure p when some fibre of its depth presses with at least p; fluid
// stands behind the innermost such fibre (closure/tying.h wets the faces). Leak pressure: the highest p
// at which every place is sealed, raised from tying pressure upward with all threads locked, bisected to
// 0.1 mmHg, capped at 150 mmHg.
// Where nothing seals, each open film resists as ∫12 µ dz/h³ (parallel plates), h the gap after the
// pressure acts, at least 0.5 µm; films in series through the depth, in parallel along the ring.
// The chamber settles where inflow F = C (p − p_v) + leak(p), no reflux below p_v, with
// p_v = scenario pressure − F/C, so that a watertight wound settles at the scenario's pressure.
// F 2.5 µL/min (figures T5-01), C 0.3 µL/min/mmHg (within T5-02's 0.1–0.4; the design's choice),
// µ 0.7 mPa·s (T5-14, from memory). Not modelled: tracks of bites that enter the chamber (flagged),
// flow along threads, swelling.
#pragma once

#include <vector>

#include "closure/tying.h"

namespace graftwright {

inline constexpr double kLeakCap_mmHg = 150.0;
inline constexpr double kLeakResolution_mmHg = 0.1;
inline constexpr double kInflow_uL_min = 2.5;
inline constexpr double kOutflowFacility = 0.3;      // µL/min/mmHg
inline constexpr double kAqueousViscosity = 0.7e-9;  // MPa·s

// One place of the wound at the scenario's pressure.
struct SealPlace {
    double deg = 0.0;
    double seal_mmHg = 0.0;  // largest contact pressure over the depth
    double gap_um = 0.0;     // smallest opening over the depth, 0 where anything presses
    double step_um = 0.0;    // front surfaces, host − donor
    double posterior_gape_um = 0.0;
};

struct WoundTest {
    double leak_pressure_mmHg = 0.0;
    bool capped = false;
    double weakest_deg = 0.0;  // where it opens first (capped: least sealed at the cap)
    double leak_uL_min = 0.0;
    double settled_pressure_mmHg = 0.0;
};

// Largest solid pressure over the depth at a point of the ring (MPa).
[[nodiscard]] double sealing_pressure(const WoundInterface& interface, const PointJumps& jumps, int point);
// Every place sealed at this pressure?
[[nodiscard]] bool sealed(const WoundInterface& interface, const PointJumps& jumps, double pressure);
// Outflow (µL/min) of the unsealed places at a chamber pressure (MPa).
[[nodiscard]] double outflow_uL_min(const WoundInterface& interface, const PointJumps& jumps, double pressure);
// Flow (mm³/s) of a film: width w, gap h, length l along the flow, pressure drop p, viscosity µ.
[[nodiscard]] double film_flow(double width, double gap, double length, double pressure, double viscosity);

[[nodiscard]] std::vector<SealPlace> seal_profile(const Closure& closure);

// From a tied closure (at tying pressure); leaves the closure in an unspecified state. False: see the
// closure's status. The scenario's pressure in mmHg.
bool test_wound(Closure& closure, double scenario_pressure_mmHg, WoundTest& result);

}  // namespace graftwright
