#include "game/hand_script.h"

#include <algorithm>
#include <cmath>

namespace graftwright {
namespace {

constexpr int kMostTimes = 1000, kTicksApart = 2;  // as levels/hand.schema.json has it

}  // namespace

std::vector<TimedInput> inputs_of(const HandRecord& hand) {
    std::vector<TimedInput> inputs;
    for (const HandInput& one : hand.events) {
        const int tick = std::max(1, static_cast<int>(std::lround(one.t_s * kTicksPerSecond)));
        for (int n = 0; n < one.times; ++n)
            inputs.push_back({tick + n * kTicksApart, {one.what, one.x, one.y, one.button, one.notches, one.key}});
    }
    // A repeat may reach beyond the event after it.
    std::stable_sort(inputs.begin(), inputs.end(),
                     [](const TimedInput& a, const TimedInput& b) { return a.tick < b.tick; });
    return inputs;
}

std::vector<HandInput> hand_events(const std::vector<TimedInput>& inputs) {
    std::vector<HandInput> events;
    for (std::size_t i = 0; i < inputs.size();) {
        std::size_t n = 1;
        while (i + n < inputs.size() && n < kMostTimes && inputs[i + n].event == inputs[i].event &&
               inputs[i + n].tick == inputs[i].tick + static_cast<int>(n) * kTicksApart)
            ++n;
        const DeviceEvent& event = inputs[i].event;
        // Four decimals tell one tick from the next.
        const double t_s = std::round(1e4 * inputs[i].tick / kTicksPerSecond) / 1e4;
        events.push_back({t_s, event.kind, event.x, event.y, event.button, event.notches, event.key, static_cast<int>(n)});
        i += n;
    }
    return events;
}

}  // namespace graftwright
