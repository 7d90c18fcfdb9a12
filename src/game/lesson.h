// The first three minutes: the controls taught one by one, each step waiting for the hand.
//
// Watches snapshots and says what to do next; it moves nothing and hides nothing, so that the attempt is the same
// with or without it. A hand that goes back (a needle taken out, a bite given up) is taken back to that step.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "game/command.h"

namespace graftwright {

struct Snapshot;

struct LessonView {
    std::string words;
    int step = 1, steps = 1;
    std::vector<Command> press;  // what the step is done with, to be pointed out on the console
};

// What a step compares with: the eye when it began.
struct LessonStart {
    int bites_in_place = 0;
    double pitch_deg = 0.0;
};

class Lesson {
  public:
    // To be called after every tick.
    void watch(const Snapshot& shot);
    // Keys are named as they are bound now.
    [[nodiscard]] LessonView view(const KeyBindings& keys) const;

  private:
    std::size_t step_ = 0;
    LessonStart then_;
};

// All steps' words, for tests and for reading.
[[nodiscard]] std::vector<std::string> lesson_words(const KeyBindings& keys);

}  // namespace graftwright
