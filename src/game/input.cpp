#include "game/input.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include <nlohmann/json.hpp>

#include "files/event_kind.h"
#include "files/input_json.h"
#include "hand/section_drive.h"

namespace graftwright {
namespace {

constexpr int kMostTimes = 1000, kTicksApart = 2;  // as levels/hand.schema.json has it

// The same again, so much later?
bool repeats(const Input& input, Input earlier, int ticks) {
    earlier.tick += ticks;
    return input == earlier;
}

}  // namespace

std::vector<Input> Script::due(int tick) {
    const auto from = inputs_.begin() + static_cast<std::ptrdiff_t>(next_);
    while (!played() && inputs_[next_].tick <= tick) ++next_;
    return {from, inputs_.begin() + static_cast<std::ptrdiff_t>(next_)};
}

std::vector<Input> inputs_of(const HandRecord& hand) {
    std::vector<Input> inputs;
    for (const HandInput& one : hand.events) {
        Input input = one;
        input.tick = std::max(1, static_cast<int>(std::lround(one.t_s * kTicksPerSecond)));
        for (int n = 0; n < one.times; ++n, input.tick += kTicksApart) inputs.push_back(input);
    }
    // A repeat may reach beyond the event after it.
    std::stable_sort(inputs.begin(), inputs.end(), [](const Input& a, const Input& b) { return a.tick < b.tick; });
    return inputs;
}

std::vector<HandInput> hand_events(const std::vector<Input>& inputs) {
    std::vector<HandInput> events;
    for (std::size_t i = 0; i < inputs.size();) {
        int n = 1;
        while (i + static_cast<std::size_t>(n) < inputs.size() && n < kMostTimes &&
               repeats(inputs[i + static_cast<std::size_t>(n)], inputs[i], n * kTicksApart))
            ++n;
        HandInput event{inputs[i]};
        event.tick = 0;  // the file says seconds; four decimals tell one tick from the next
        event.t_s = std::round(1e4 * inputs[i].tick / kTicksPerSecond) / 1e4;
        event.times = n;
        events.push_back(std::move(event));
        i += static_cast<std::size_t>(n);
    }
    return events;
}

Event input_event(const Input& input) {
    nlohmann::ordered_json detail = nlohmann::ordered_json::parse(input_json(input));
    detail["tick"] = input.tick;
    return {static_cast<double>(input.tick) / kTicksPerSecond, std::string(event_name(EventKind::input)),
            detail.dump()};
}

std::vector<Input> inputs_of(const Attempt& attempt) {
    std::vector<Input> inputs;
    for (const Event& event : attempt.events) {
        if (!is(event, EventKind::input)) continue;
        const nlohmann::json detail = nlohmann::json::parse(event.detail_json, nullptr, false);
        std::optional<Input> input = input_from_json(event.detail_json);
        if (!input || !detail.contains("tick") || !detail["tick"].is_number_integer()) continue;
        input->tick = detail["tick"].get<int>();
        inputs.push_back(std::move(*input));
    }
    return inputs;
}

}  // namespace graftwright
