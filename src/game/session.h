// One attempt from the first aim to the debrief: a pure state machine on a fixed tick of 1/240 s.
//
// Actions in, Snapshot out; no window, no clock. Hand, needle, thread and donor move on the tick: what they act on is
// the table (table.h), what the hand may do to it the stage's business (stage/stages.h). The wound is asked at one tick
// and adopted kSolveTicks later, whatever the machine: where the answer is late the session waits (can_step() is
// false), so a slow and a fast machine make the same attempt to the bit. A fewer-than-three-bites wound is asked like
// any other and answered with the rigid donor.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "game/stage/stages.h"

namespace graftwright {

inline constexpr int kSolveTicks = 12;       // a question acts this much later: 50 ms
inline constexpr int kOldPictureTicks = 36;  // 150 ms

class Session {
  public:
    // started: a label for the attempt (ISO 8601 by custom).
    Session(std::shared_ptr<const ScenarioModel> model, std::unique_ptr<WoundService> service, std::string trainee,
            std::string started);

    [[nodiscard]] bool can_step() const;
    void step(const std::vector<Action>& actions);

    [[nodiscard]] int tick() const { return table_.tick; }
    [[nodiscard]] Stage stage() const;
    [[nodiscard]] bool over() const { return std::holds_alternative<stage::Over>(stage_); }
    // What the view draws; layout and buttons are the caller's.
    [[nodiscard]] Snapshot snapshot() const;
    // The attempt so far: bites that were finished, and the events of the hand.
    [[nodiscard]] const Attempt& attempt() const { return table_.threads.attempt; }
    void record(Event event);  // a caller's own event (inputs, for replay)
    [[nodiscard]] const std::shared_ptr<const Debrief>& debrief() const { return debrief_; }
    [[nodiscard]] double aim_deg() const { return table_.bite.aim_deg(); }

  private:
    void act(const Action& action);
    void go(stage::Next next);
    void ask_and_adopt();
    void work_out(stage::Solving& solving);
    [[nodiscard]] bool in_play() const;  // the hand acts: not paused, not over
    [[nodiscard]] WoundQuestion question() const;

    std::unique_ptr<WoundService> service_;
    Table table_;
    stage::AnyStage stage_;
    bool paused_ = false, fine_ = false, twin_ = false;
    std::optional<WoundQuestion> asked_;  // outstanding
    std::shared_ptr<const Debrief> debrief_;
};

}  // namespace graftwright
