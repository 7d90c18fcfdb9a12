// A level in real time: inputs of a frame in, as many ticks as time has passed, the time line kept.
//
// A frame plays at most kMostTicksAFrame (a machine that can't keep up plays slower, never differently),
// and fewer where an answer is late. A scripted hand's inputs come in at their own ticks.
#pragma once

#include <memory>
#include <vector>

#include "game/game.h"
#include "game/timeline.h"

namespace graftwright {

inline constexpr int kMostTicksAFrame = 24;  // a tenth of a second

class LevelRun {
  public:
    LevelRun(std::shared_ptr<const ScenarioModel> model, std::unique_ptr<WoundService> service,
             const GameOptions& options, std::vector<Input> script = {});

    void advance(double elapsed_s, const std::vector<Input>& inputs);
    // Plays a journal's inputs again, at once.
    void catch_up(const std::vector<Input>& inputs, int to_tick);

    [[nodiscard]] const Snapshot& snapshot() const { return shot_; }
    [[nodiscard]] const Timeline& timeline() const { return timeline_; }
    [[nodiscard]] Game& game() { return game_; }
    [[nodiscard]] bool scripted() const { return !script_.empty(); }

  private:
    void tick(std::vector<Input> inputs);

    Game game_;
    Script script_;
    std::vector<Input> waiting_;
    double time_left_s_ = 0.0;
    Timeline timeline_;
    Snapshot shot_;
};

}  // namespace graftwright
