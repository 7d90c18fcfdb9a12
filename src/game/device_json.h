// Device events as JSON objects: one shape for scripted hands, the journal and an attempt's events.
//
//   {"do": "move", "x": …, "y": …}   {"do": "press"|"release", "x": …, "y": …, "button": 0}
//   {"do": "wheel", "notches": …}    {"do": "key", "key": "Space"}
// x, y: design pixels (layout.h); within ±100,000, notches within ±1000, no more than any device gives.
#pragma once

#include <optional>
#include <string>

#include "game/device_event.h"

namespace graftwright {

[[nodiscard]] std::string device_json(const DeviceEvent& event);
// Empty where the object is none of the above; other keys are left alone.
[[nodiscard]] std::optional<DeviceEvent> device_from_json(const std::string& object);

}  // namespace graftwright
