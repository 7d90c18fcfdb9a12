// The steps of the first three minutes, as data.
#pragma once

#include <string_view>
#include <vector>

#include "game/lesson.h"
#include "game/snapshot.h"

namespace graftwright {

// {command} in the words stands for its key. `meant_in`: where the hand may be while the step lasts, empty: anywhere.
// A hand that is elsewhere is followed: back to the last step meant for where it is, or on to the next one.
struct LessonStep {
    std::string_view words;
    std::vector<Command> press;
    std::vector<Stage> meant_in;
    bool (*done)(const Snapshot& now, const LessonStart& then);
};

[[nodiscard]] const std::vector<LessonStep>& lesson_steps();
[[nodiscard]] LessonStart lesson_start(const Snapshot& shot);

}  // namespace graftwright
