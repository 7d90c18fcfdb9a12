// How long frames take: our own code apart from the library's draw calls. For `play --frames`.
#pragma once

#include <chrono>
#include <vector>

#include "view/play_window.h"

namespace graftwright {

class FrameClock {
  public:
    using Clock = std::chrono::steady_clock;
    static double ms_since(Clock::time_point start) {
        return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
    }
    void frame(double own_ms, double whole_ms);
    [[nodiscard]] int frames() const { return static_cast<int>(own_ms_.size()); }
    [[nodiscard]] FrameReport report(double first_frame_s) const;

  private:
    std::vector<double> own_ms_, whole_ms_;
};

}  // namespace graftwright
