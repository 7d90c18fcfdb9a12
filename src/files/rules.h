// What no schema can say: rules that compare values of a file with each other, or an attempt with
// its scenario. Ranges of single values are the schemas'.
//
// A rule refuses only what the model cannot mean or the eye cannot hold; what is merely poor work
// is the score's business. So one or two bites pass (score says that they hold nothing), and a path
// flatter than straight passes (it is taken as straight). Private to this room, but for the limits.
#pragma once

#include "files/attempt.h"
#include "files/hand_record.h"
#include "files/document.h"
#include "files/ring_case.h"
#include "files/scenario.h"

namespace graftwright {

// Formats fix 1 to 64 bites in all; bites of runs count.
inline constexpr std::size_t kMostBites = 64;
// Two bites nearer than this at both edges are one place: 0.5° is 0.035 mm at 4 mm from the axis,
// hardly more than a thread's width (0.025 mm). Our choice.
inline constexpr double kOnePlaceDeg = 0.5;
// Rim left between bed and limbus at the narrowest place, so that a host bite has tissue. Our
// choice.
inline constexpr double kLeastRimMm = 0.5;
// A donor further than this from its bed's diameter can't be what was meant: in practice 0 to 0.5
// mm larger (figures T3-23, T3-24). Our choice.
inline constexpr double kMostMisfitMm = 1.0;
// The limbus may lie at most this fraction of the sphere's radius from the axis: the surface there
// slopes 72°; the default eye has 52°. Our choice.
inline constexpr double kWidestLimbus = 0.95;
// Fewer bites hold no filled chamber (closure/tying.h), so there is nothing to ask about.
inline constexpr std::size_t kLeastBitesOfAQuestion = 3;
inline constexpr std::size_t kLeastBitesOfARun = 3;  // of a task and in the game: two make one long loop across
// A donor bite may reach at most this fraction of the way from wound to centre. Our choice.
inline constexpr double kLongestDonorBite = 0.9;

[[nodiscard]] Findings rules_of(const Scenario& scenario);
[[nodiscard]] Findings rules_of_task(const Scenario& scenario);  // its kind and marks; part of the above
[[nodiscard]] Findings rules_of(const Attempt& attempt);
[[nodiscard]] Findings rules_of(const RingCase& ring);
[[nodiscard]] Findings rules_of(const HandRecord& hand);
[[nodiscard]] Findings rules_of(const Attempt& attempt, const Scenario& scenario);

}  // namespace graftwright
