// A drill's question while it is being answered: one step after another, the choice under the hand, what was picked.
//
// Choices belong to a place of the eye (a bite, a place of the wound) or to none ("loosen it"). Plain data in, plain
// data out; it knows no right answer (drill.h works that out).
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "base/point.h"
#include "score/drill_question.h"

namespace graftwright {

struct QuestionView {
    struct Choice {
        std::string label;
        std::optional<Point> at;  // field, mm; empty: no place of the eye
        double deg = 0.0;
        bool bite = false;  // a thread that lies there; otherwise a place of the wound
        bool picked = false;
    };
    std::string words;
    int step = 1, steps = 1;
    bool several = false;    // any number may be picked
    bool two_sorts = false;  // bites and places both
    std::vector<Choice> choices;
    std::size_t under_hand = 0;
};

class QuestionInHand {
  public:
    // only_first: the rest was done by hand.
    QuestionInHand(const Scenario& scenario, bool only_first);

    // To the next choice of the same sort, counter-clockwise for +1.
    void go_round(int sense);
    void other_sort();
    // The choice nearest to a place of the field; `at` gives each choice's own.
    void point_at(Point field, const std::vector<std::optional<Point>>& at);
    // A choice of no place, by what it means.
    void choose(bool loosen);
    void toggle();
    // Takes the choice under the hand (or those picked) and goes on; false where several may be picked and none is.
    [[nodiscard]] bool accept();
    [[nodiscard]] bool back();  // to the step before; false at the first
    [[nodiscard]] bool answered() const { return step_ == question_.steps.size(); }
    [[nodiscard]] DrillAnswer answer() const { return answer_from(question_, picked_); }

    [[nodiscard]] const DrillStep& step() const { return question_.steps[std::min(step_, question_.steps.size() - 1)]; }
    // Places are the caller's.
    [[nodiscard]] QuestionView view(const std::vector<std::optional<Point>>& at) const;

  private:
    DrillQuestion question_;
    std::vector<std::vector<std::size_t>> picked_;
    std::size_t step_ = 0, under_hand_ = 0;
};

// The bite that a choice speaks of; empty: a place, or none.
[[nodiscard]] std::optional<std::size_t> bite_of(const DrillChoice& choice);
[[nodiscard]] bool is_place(const DrillChoice& choice);

}  // namespace graftwright
