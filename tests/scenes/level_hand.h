// A shipped level played at the input, as a simulated hand means it and a shaking device delivers it.
//
// What is meant comes from study/simulated_hand.h (an expert, a careless one); needle, forceps, thread and answers are
// then worked through pointer, wheel and keys with InputNoise. Same seed, same attempt.
#pragma once

#include <memory>

#include "robot_hand.h"
#include "score/drill.h"
#include "study/simulated_hand.h"

namespace graftwright::scenes {

struct PlayedLevel {
    Attempt attempt;
    bool passed = false;
    std::string why;  // the first mark missed, or the drill's sentence
};

// A planned attempt as the device delivers it: single bites, then each run with its knot, then what comes out after the
// last one (removed_after 0 beside runs). What the plan's start holds already is not laid again.
[[nodiscard]] Attempt play_plan(const std::shared_ptr<const ScenarioModel>& model, const Attempt& plan,
                                const InputNoise& noise);

// judge: of the level, for drills; null for closures.
[[nodiscard]] PlayedLevel play_level(const std::shared_ptr<const ScenarioModel>& model, const DrillJudge* judge,
                                     const HandSkill& skill, const InputNoise& noise);

}  // namespace graftwright::scenes
