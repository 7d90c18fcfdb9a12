#include "game/lesson.h"

#include <algorithm>
#include <string_view>

#include "game/lesson_steps.h"

namespace graftwright {
namespace {

bool meant_in(const LessonStep& step, Stage stage) {
    return step.meant_in.empty() || std::find(step.meant_in.begin(), step.meant_in.end(), stage) != step.meant_in.end();
}

std::string key_words(const KeyBindings& keys, Command command) {
    const std::string key = keys.key_of(command);
    if (key.empty()) return "its button";
    const std::string_view arrow = arrow_sign(key);
    return arrow.empty() ? key : std::string(arrow);
}

// "press {forceps}" → "press F".
std::string with_keys(std::string_view words, const KeyBindings& keys) {
    std::string text;
    while (!words.empty()) {
        const std::size_t open = words.find('{'), close = words.find('}');
        if (open == std::string_view::npos || close == std::string_view::npos) return text + std::string(words);
        text += std::string(words.substr(0, open)) +
                key_words(keys, command_from_name(words.substr(open + 1, close - open - 1)));
        words.remove_prefix(close + 1);
    }
    return text;
}

}  // namespace

void Lesson::watch(const Snapshot& shot) {
    const std::vector<LessonStep>& steps = lesson_steps();
    const auto begin_at = [&](std::size_t step) {
        step_ = step;
        then_ = lesson_start(shot);
    };
    if (step_ + 1 < steps.size() && steps[step_].done(shot, then_)) {
        begin_at(step_ + 1);
        return;
    }
    if (meant_in(steps[step_], shot.stage) || shot.stage == Stage::look) return;
    for (std::size_t back = step_; back-- > 0;)
        if (!steps[back].meant_in.empty() && meant_in(steps[back], shot.stage)) {
            begin_at(back);
            return;
        }
    for (std::size_t on = step_ + 1; on < steps.size(); ++on)
        if (meant_in(steps[on], shot.stage)) {
            begin_at(on);
            return;
        }
}

LessonView Lesson::view(const KeyBindings& keys) const {
    const LessonStep& step = lesson_steps()[step_];
    return {with_keys(step.words, keys), static_cast<int>(step_) + 1, static_cast<int>(lesson_steps().size()),
            step.press};
}

std::vector<std::string> lesson_words(const KeyBindings& keys) {
    std::vector<std::string> all;
    for (const LessonStep& step : lesson_steps()) all.push_back(with_keys(step.words, keys));
    return all;
}

}  // namespace graftwright
