// How hard the wound presses by the clock, against the pressure that it has to hold.
//
// A polar plot: a place of the wound at its angle, its sealing pressure from the middle outward; at the rim the bites,
// and running threads from one to the next. Distances are shares of the outermost circle's radius.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include "files/attempt.h"
#include "files/scenario.h"
#include "score/measured_closure.h"

namespace graftwright {

struct LeakClock {
    // Circles at these parts of the outermost one's pressure, evenly apart by the square root.
    static constexpr std::array<double, 3> kCircles{1.0 / 16.0, 1.0 / 4.0, 1.0};

    std::vector<SealPlace> seal;  // in order of angle, from 0°
    WoundTest test;
    double eye_mmHg = 15.0;            // the chamber's pressure in the picture
    std::optional<double> asked_mmHg;  // of the leak test
    double full_mmHg = 100.0;          // at the outermost circle

    // Those in the eye, at the rim; `number` as in bites_in_order, from 0.
    struct Bite {
        std::size_t number = 0;
        double deg = 0.0;
        bool run = false;  // on a running thread
    };
    std::vector<Bite> bites;
    // A running thread on the surface, from the host exit of one bite to the donor entry of the next.
    struct Span {
        double from_deg = 0.0, to_deg = 0.0;
        std::size_t run = 0;
        bool knot = false;  // the run's: kKnotAlong its slant
    };
    std::vector<Span> spans;

    // Distance of a pressure from the middle, 0 … 1: a square root, so that a seal of 20 mmHg can be told from none
    // beside one of 400.
    [[nodiscard]] double share(double mmHg) const;
};
// Empty where the closure found no balance.
[[nodiscard]] std::optional<LeakClock> leak_clock(const Scenario& scenario, const ClosureMeasures& measures);
// Marks the bites of an attempt, and its running threads, at the clock's rim.
void mark_bites(LeakClock& clock, const Attempt& attempt);

// A span's way the shorter way round: angle, and how far from the bites' host ends (0) to their donor ends (1). The
// rim is not to scale, so that the straight thread is an even slant within it.
struct SlantPoint {
    double deg = 0.0, inward = 0.0;
};
[[nodiscard]] std::vector<SlantPoint> slant(const LeakClock::Span& span);
// Which of its points has the knot: halfway along the last span often lies another thread's bite.
inline constexpr std::size_t kKnotAlong = 5;

}  // namespace graftwright
