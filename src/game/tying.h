// A knot in the making: of a single bite, or of the open run as a whole.
#pragma once

#include <optional>
#include <vector>

#include "files/attempt.h"
#include "files/scenario.h"
#include "hand/knot_in_hand.h"

namespace graftwright {

struct Tying {
    // The knot begins with slack ends and no throw.
    Tying(const Scenario& scenario, const Bite& bite);
    Tying(const Scenario& scenario, const std::vector<RunBite>& open_run);

    Bite bite;
    std::optional<Run> run;  // empty: it is the bite that is tied
    KnotLimits limits;
    KnotInHand knot;
    double hand_mN = 0.0;
    int next_turns = 3;
};

// A thread that has cut toward the wound: the bite is shorter by so much, the run's weakest is.
void shorten(BitePath& bite, double cut_mm);
void shorten_weakest(const Scenario& scenario, std::vector<RunBite>& run, double cut_mm);

}  // namespace graftwright
