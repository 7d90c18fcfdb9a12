// What the hand's device did: pointer, button, wheel, key; in design pixels, so on every screen the same.
#pragma once

#include <string>

#include "files/hand_record.h"

namespace graftwright {

struct DeviceEvent {
    using Kind = HandDoes;
    Kind kind = Kind::move;
    double x = 0.0, y = 0.0;  // pointer, canvas (layout.h)
    int button = 0;           // 0 left, 1 right
    double notches = 0.0;     // wheel, + away from the hand
    std::string key;          // name as in KeyBinding; a press, repeats of a held key come as presses
    friend bool operator==(const DeviceEvent&, const DeviceEvent&) = default;
};

}  // namespace graftwright
