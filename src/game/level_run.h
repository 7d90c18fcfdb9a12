// A level in real time: device events of a frame in, as many ticks as time has passed, the time line kept.
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
             const GameOptions& options, std::vector<TimedInput> script = {});

    void advance(double elapsed_s, const std::vector<DeviceEvent>& events);
    // Plays a journal's inputs again, at once.
    void catch_up(const std::vector<TimedInput>& inputs, int to_tick);

    [[nodiscard]] const Snapshot& snapshot() const { return shot_; }
    [[nodiscard]] const Timeline& timeline() const { return timeline_; }
    [[nodiscard]] Game& game() { return game_; }
    [[nodiscard]] bool scripted() const { return !script_.empty(); }

  private:
    void tick(std::vector<DeviceEvent> events);

    Game game_;
    std::vector<TimedInput> script_;
    std::size_t next_ = 0;
    std::vector<DeviceEvent> waiting_;
    double time_left_s_ = 0.0;
    Timeline timeline_;
    Snapshot shot_;
};

}  // namespace graftwright
