#include "game/level_run.h"

#include <algorithm>
#include <utility>

namespace graftwright {

LevelRun::LevelRun(std::shared_ptr<const ScenarioModel> model, std::unique_ptr<WoundService> service,
                   const GameOptions& options, std::vector<TimedInput> script)
    : game_(std::move(model), std::move(service), options), script_(std::move(script)), shot_(game_.snapshot()) {}

void LevelRun::tick(std::vector<DeviceEvent> events) {
    const int now = game_.session().tick() + 1;
    for (; next_ < script_.size() && script_[next_].tick <= now; ++next_) events.push_back(script_[next_].event);
    game_.step(events);
    timeline_.watch(game_.last());
}

void LevelRun::advance(double elapsed_s, const std::vector<DeviceEvent>& events) {
    if (!scripted()) waiting_.insert(waiting_.end(), events.begin(), events.end());
    constexpr double kTick_s = 1.0 / kTicksPerSecond;
    time_left_s_ = std::min(time_left_s_ + elapsed_s, kMostTicksAFrame * kTick_s);
    for (; time_left_s_ >= kTick_s && game_.can_step(); time_left_s_ -= kTick_s) tick(std::exchange(waiting_, {}));
    shot_ = game_.snapshot();
}

void LevelRun::catch_up(const std::vector<TimedInput>& inputs, int to_tick) {
    std::size_t next = 0;
    while (game_.session().tick() < to_tick && !game_.session().over()) {
        std::vector<DeviceEvent> now;
        for (; next < inputs.size() && inputs[next].tick <= game_.session().tick() + 1; ++next)
            now.push_back(inputs[next].event);
        tick(std::move(now));
    }
    shot_ = game_.snapshot();
}

}  // namespace graftwright
