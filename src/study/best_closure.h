// What a level leaves within reach: the best closure that can be predicted before anybody has played it.
//
// A hand without any error (no tremor, no clock) lays evenly what the task asks for; score_attempt solves that
// attempt and its ideal twin, the very ideal that `graftwright score` measures an attempt in this level
// against. Beside it the same hand as it answers the eye: it keeps the starting bites that look right, levels
// the fronts of a swollen rim and ties an oval bed tighter across. A drill or a question is judged as `score`
// judges it. Deterministic; neither is a bound.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "files/scenario.h"
#include "score/pass_marks.h"
#include "score/rules.h"

namespace graftwright {

// A mark asks for no more than this share of the ideal's leak pressure; DEVELOPERS.md, "a level".
inline constexpr double kMostLeakAsked = 0.8;

// One closure, as the score reads it.
struct ClosureReading {
    double cylinder_D = 0.0, steep_axis_deg = 0.0, mean_D = 0.0;
    double flattening_D = 0.0;  // against the ideal: 0 for the ideal itself
    double leak_pressure_mmHg = 0.0;
    bool leak_capped = false;
    double step_um = 0.0, posterior_gape_um = 0.0;
};

struct BestClosure {
    std::string reason;                                  // why there is no ideal; "" where there is one
    std::optional<ClosureReading> opening, hand, ideal;  // as posed; the hand that answers the eye; its even ideal
    std::vector<PassMark> ideal_marks, hand_marks;       // those that the level sets and that could be measured
    bool ideal_passes = false, hand_passes = false;
    std::string verdict;               // of a drill or a question: the judge's sentence on the faultless hand
    std::optional<double> leak_asked;  // the mark over the ideal's leak pressure

    [[nodiscard]] bool asks_too_much_leak() const { return leak_asked && *leak_asked > kMostLeakAsked; }
};

// The scenario must have been read or checked: what `check` refuses can't be solved.
[[nodiscard]] BestClosure best_closure(const Scenario& scenario);

}  // namespace graftwright
