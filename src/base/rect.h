// A rectangle with upright sides: its corner of least x and y, and its size.
#pragma once

#include "base/point.h"

namespace graftwright {

struct Rect {
    double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
    [[nodiscard]] bool holds(double px, double py) const {
        return px >= x && px < x + width && py >= y && py < y + height;
    }
    [[nodiscard]] Point centre() const { return {x + width / 2.0, y + height / 2.0}; }
};

}  // namespace graftwright
