// What was seen during an attempt, for the replay with a time line: a snapshot every fifth of a second.
#pragma once

#include <vector>

#include "game/snapshot.h"
#include "hand/section_drive.h"

namespace graftwright {

inline constexpr int kTimelineTicks = 48;            // 0.2 s
inline constexpr std::size_t kTimelineMost = 20000;  // an hour and more; then every second one goes

class Timeline {
  public:
    // Keeps the snapshot when its time has come; the clock stands in pauses, so they leave nothing.
    void watch(const Snapshot& shot);
    [[nodiscard]] double end_s() const { return kept_.empty() ? 0.0 : kept_.back().time_s; }
    // The snapshot shown at a time of the attempt's clock; there must be one.
    [[nodiscard]] const Snapshot& at(double time_s) const;
    [[nodiscard]] bool empty() const { return kept_.empty(); }

  private:
    std::vector<Snapshot> kept_;
    double apart_s_ = kTimelineTicks / static_cast<double>(kTicksPerSecond);
};

}  // namespace graftwright
