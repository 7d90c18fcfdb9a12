// How long frames take: our own code apart from the library's draw calls. For `play --frames`.
#pragma once

#include <chrono>
#include <string>
#include <vector>

namespace graftwright {

// How the frames went.
struct FrameReport {
    int frames = 0;
    double own_median_ms = 0.0, own_p99_ms = 0.0;  // our code, the library's draw calls excluded
    double whole_median_ms = 0.0, frames_per_s = 0.0;
    std::string logbook_fault;   // why an attempt is not in the logbook; "": all are
    double first_frame_s = 0.0;  // after the program's start
    double memory_MB = 0.0;      // most ever resident
    std::string renderer;        // what draws: hardware or software
};

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
