// Inputs as JSON objects: one shape for the journal and an attempt's events, the scripted hand's without its time.
//
//   {"do": "move", "x": …, "y": …}   {"do": "press"|"release", "x": …, "y": …, "button": 0}
//   {"do": "wheel", "notches": …}    {"do": "key", "key": "Space"}
// x, y: design pixels, within ±100,000; notches within ±1000, no more than any device gives. The tick is the caller's.
#pragma once

#include <optional>
#include <string>

#include "files/hand_record.h"

namespace graftwright {

[[nodiscard]] std::string input_json(const Input& input);
// Empty where the object is none of the above; other keys are left alone.
[[nodiscard]] std::optional<Input> input_from_json(const std::string& object);

}  // namespace graftwright
