// How much a file may hold and what it may ask for, where a schema's range does not say it alone: the rules, the
// solver and the game are held to the same numbers.
#pragma once

#include <cstddef>

#include "base/angle.h"

namespace graftwright {

// Formats fix 1 to 64 bites in all, bites of runs counted, and at most 8 runs.
inline constexpr std::size_t kMostBites = 64;
inline constexpr std::size_t kMostRuns = 8;
inline constexpr std::size_t kMostThrows = 8;  // of a knot
// Two bites nearer than this at both edges are one place: 0.5° is 0.035 mm at 4 mm from the axis,
// hardly more than a thread's width (0.025 mm). Our choice.
inline constexpr double kOnePlace_deg = 0.5;
[[nodiscard]] inline bool one_place(double a_deg, double b_deg) { return apart_deg(a_deg, b_deg) < kOnePlace_deg; }
// Rim left between bed and limbus at the narrowest place, so that a host bite has tissue. Our
// choice.
inline constexpr double kLeastRim_mm = 0.5;
// A donor further than this from its bed's diameter can't be what was meant: in practice 0 to 0.5
// mm larger (figures T3-23, T3-24). Our choice.
inline constexpr double kMostMisfit_mm = 1.0;
// The limbus may lie at most this fraction of the sphere's radius from the axis: the surface there
// slopes 72°; the default eye has 52°. Our choice.
inline constexpr double kWidestLimbus = 0.95;
// Fewer bites hold no filled chamber (closure/tying.h), so there is nothing to ask about.
inline constexpr std::size_t kLeastBitesOfAQuestion = 3;
inline constexpr std::size_t kLeastBitesOfARun = 3;  // of a task and in the game: two make one long loop across
// A donor bite may reach at most this fraction of the way from wound to centre. Our choice.
inline constexpr double kLongestDonorBite = 0.9;

}  // namespace graftwright
