// Inputs in time: those of a scripted hand's file or of an attempt's events, played when their tick has come.
#pragma once

#include <utility>
#include <vector>

#include "files/attempt.h"
#include "files/hand_record.h"

namespace graftwright {

// Inputs that wait for their tick, in order.
class Script {
  public:
    Script() = default;
    explicit Script(std::vector<Input> inputs) : inputs_(std::move(inputs)) {}
    // Those that act at this tick, or should have before it; each comes once.
    [[nodiscard]] std::vector<Input> due(int tick);
    [[nodiscard]] bool empty() const { return inputs_.empty(); }  // there never were any
    [[nodiscard]] bool played() const { return next_ == inputs_.size(); }

  private:
    std::vector<Input> inputs_;
    std::size_t next_ = 0;
};

// Each event at the tick nearest to its time; "times" of it every second tick.
[[nodiscard]] std::vector<Input> inputs_of(const HandRecord& hand);
// Inputs as events; equal ones two ticks apart become one with "times".
[[nodiscard]] std::vector<HandInput> hand_events(const std::vector<Input>& inputs);

// An input among an attempt's events, and back: what "input", its object (files/input_json.h) and its tick.
[[nodiscard]] Event input_event(const Input& input);
// In order; empty where the attempt has none.
[[nodiscard]] std::vector<Input> inputs_of(const Attempt& attempt);

}  // namespace graftwright
