// The skills a learning curve is kept for, and what counts as success in one attempt.
//
// A hand's skill (depth, length, direction, spacing, tension) succeeds where at most one bite in eight broke one
// of that skill's limits (score/bite_metrics.h; one in eight is our choice). Seal and optics succeed where
// the scenario's own limit is met, the closure where every limit is. What an attempt cannot show (a limit
// not asked for, too few bites, a closure in a drill) is no trial, and a level's own bites are no hand's. Judged when
// the attempt is entered and kept: a later change of limits does not rewrite history. Append only.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "score/scorecard.h"

namespace graftwright {

enum class Skill : std::size_t { depth, length, direction, spacing, tension, seal, optics, closure, count };
inline constexpr std::size_t kSkillCount = static_cast<std::size_t>(Skill::count);

struct SkillInfo {
    Skill skill;
    const char* name;
    const char* success;  // what one attempt has to show
};

inline constexpr std::array<SkillInfo, kSkillCount> kSkills{{
    {Skill::depth, "depth", "at most one bite in eight too shallow, too deep, through, or unequal on its two sides"},
    {Skill::length, "length", "at most one bite in eight too short, too long, or out of proportion"},
    {Skill::direction, "direction", "at most one bite in eight off the radius"},
    {Skill::spacing, "spacing", "at most one bite in eight off its mark (from four bites on)"},
    {Skill::tension, "tension", "at most one bite in eight loose, tight or beyond the thread's strength"},
    {Skill::seal, "seal", "leak pressure within the level's limit"},
    {Skill::optics, "optics", "cylinder within the level's limit"},
    {Skill::closure, "closure", "every limit of the level met"},
}};

using Outcomes = std::array<std::optional<bool>, kSkillCount>;  // empty: no trial

// runs: the attempt's, to tell the level's own bites from the hand's.
[[nodiscard]] Outcomes judge_skills(const Scenario& scenario, const Scorecard& card, const std::vector<Run>& runs = {});

// One letter a skill, in the order of kSkills: + success, - failure, . no trial.
[[nodiscard]] std::string letters_of(const Outcomes& outcomes);
// Letters that are missing or unknown are no trial.
[[nodiscard]] std::optional<bool> outcome_in(std::string_view letters, Skill skill);

}  // namespace graftwright
