#include "game/level_run.h"

#include <algorithm>
#include <utility>

namespace graftwright {

LevelRun::LevelRun(std::shared_ptr<const ScenarioModel> model, std::unique_ptr<WoundService> service,
                   const GameOptions& options, std::vector<Input> script)
    : game_(std::move(model), std::move(service), options), script_(std::move(script)), shot_(game_.snapshot()) {}

void LevelRun::tick(std::vector<Input> inputs) {
    game_.step(std::move(inputs));
    timeline_.watch(game_.last());
}

void LevelRun::advance(double elapsed_s, const std::vector<Input>& inputs) {
    if (!scripted()) waiting_.insert(waiting_.end(), inputs.begin(), inputs.end());
    constexpr double kTick_s = 1.0 / kTicksPerSecond;
    time_left_s_ = std::min(time_left_s_ + elapsed_s, kMostTicksAFrame * kTick_s);
    for (; time_left_s_ >= kTick_s && game_.can_step(); time_left_s_ -= kTick_s)
        tick(scripted() ? script_.due(game_.session().tick() + 1) : std::exchange(waiting_, {}));
    shot_ = game_.snapshot();
}

void LevelRun::catch_up(const std::vector<Input>& inputs, int to_tick) {
    Script journal(inputs);
    while (game_.session().tick() < to_tick && !game_.session().over()) tick(journal.due(game_.session().tick() + 1));
    shot_ = game_.snapshot();
}

}  // namespace graftwright
