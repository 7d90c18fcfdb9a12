// A simulated hand at a level: the attempt that it makes, the answer that it gives.
//
// It lays what the task asks for beside the level's starting bites, in the usual order (hand/tying_order.h),
// each bite as meant by its skill plus the errors drawn for it; starting bites that it sees to be wrong it
// cuts out first and lays anew. The level's tremor widens every error of place and depth. A time limit ends
// the attempt before the first bite that would not be finished. No needle is driven and no wound solved
// here: the attempt is what would be recorded, in an attempt file's units. Same stream, same attempt.
#pragma once

#include <optional>

#include "base/random.h"
#include "files/attempt.h"
#include "files/scenario.h"
#include "score/drill.h"
#include "study/hand_skill.h"

namespace graftwright {

// Kinds that ask a question give the start's bites back.
[[nodiscard]] Attempt simulated_attempt(const Scenario& scenario, const HandSkill& skill, RandomStream& random);

// Question kinds: what the hand answers after looking at the wound as posed. The judge knows how tight each
// bite is and where it leaks; a skilled eye reads that with an error, a careless one picks at random.
[[nodiscard]] DrillAnswer simulated_answer(const Scenario& scenario, const DrillJudge& judge, const HandSkill& skill,
                                           RandomStream& random);

}  // namespace graftwright
