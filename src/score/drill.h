// Drills: one skill, one verdict, in words with numbers.
//
// depth, radial, opposite, tension: the marks of the hand (hand_marks.h), also for one or two bites, where
// no closure can be solved. read-rings, find-leak, remove: the level's starting bites are the question, and
// every answer is checked by solving the closure again as answered; no file holds a solution. A trainee
// may answer (drill_question.h) or do it: where the attempt's bites differ from the start's, they count.
//   read-rings  each bite in turn drawn anew to the median tension of the others, chamber filled; right if
//               the one named leaves no more cylinder than the best by kRingTolerance_D, and its sense fits
//   find-leak   the weakest place within kLeakPlace_deg of the answer; the repaired wound reaches the marks
//   remove      the bites taken out at one visit: still watertight, cylinder below the mark. Nothing heals and
//               no thread slackens here; months afterwards are another matter.
// Deterministic; const after construction, threads may share one. Training only.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "score/drill_question.h"
#include "score/pass_marks.h"
#include "score/rules.h"

namespace graftwright {

inline constexpr double kRingTolerance_D = 0.25;  // a quarter step of a trial lens; our choice
inline constexpr double kLeakPlace_deg = 15.0;    // half a clock hour; our choice

struct DrillVerdict {
    bool passed = false;
    std::string sentence;                                  // the verdict in one sentence
    std::vector<PassMark> marks;                           // what was measured against which limit
    std::vector<std::string> words;                        // the same and what solving again has shown, a line each
    std::shared_ptr<const ClosureMeasures> before, after;  // question drills: the wound as posed, as answered
};

// One bite of read-rings drawn to the median of the others.
struct BiteReading {
    std::size_t bite = 0;
    double tension_mN = 0.0, others_mN = 0.0;  // chamber filled; median of the others
    std::optional<double> cylinder_D;          // afterwards; empty: no balance
    std::shared_ptr<const ClosureMeasures> drawn;  // afterwards, without the leak test
};

// "least depth 0.91 of the thickness, at least 0.87 asked: met"
[[nodiscard]] std::string mark_words(const PassMark& mark);

// The verdict for people: its sentence, then a line for each of its words.
[[nodiscard]] std::string verdict_text(const DrillVerdict& verdict);

class DrillJudge {
  public:
    // Solves what the question needs once: the start, and for read-rings once more per bite. The model must
    // outlive the judge; its kind must not be closure.
    explicit DrillJudge(const ScenarioModel& model, int threads = 2);

    // answer: empty where none was given; then the attempt's own events are looked through.
    [[nodiscard]] DrillVerdict judge(const Attempt& attempt, const std::optional<DrillAnswer>& answer = {}) const;

    // The wound as posed; null where the kind asks nothing.
    [[nodiscard]] const std::shared_ptr<const ClosureMeasures>& start() const { return start_; }
    [[nodiscard]] const std::vector<BiteReading>& readings() const { return readings_; }

  private:
    [[nodiscard]] DrillVerdict judge_hand(const Attempt& attempt) const;
    [[nodiscard]] DrillVerdict judge_rings(const DrillAnswer& answer) const;
    [[nodiscard]] DrillVerdict judge_leak(const std::vector<Bite>& bites, const std::vector<Run>& runs,
                                          const DrillAnswer& answer) const;
    [[nodiscard]] DrillVerdict judge_removal(const std::vector<Bite>& bites, const std::vector<Run>& runs) const;
    [[nodiscard]] std::string asked_wrongly(const DrillAnswer& answer) const;

    const ScenarioModel* model_;
    std::shared_ptr<const ClosureMeasures> start_;
    std::vector<BiteReading> readings_;
};

// The start's bites as a find-leak or remove answer leaves them: a bite cut out after the last knot and laid
// anew as a careful hand would (ideal depth, radial, lengths and tension like the others), one more laid,
// some taken out.
[[nodiscard]] std::vector<Bite> bites_as_answered(const Scenario& scenario, const DrillAnswer& answer);

// The same in one call.
[[nodiscard]] DrillVerdict judge_drill(const ScenarioModel& model, const Attempt& attempt,
                                       const std::optional<DrillAnswer>& answer = {});

}  // namespace graftwright
