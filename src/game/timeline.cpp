#include "game/timeline.h"

#include <algorithm>

#include "base/check.h"

namespace graftwright {

void Timeline::watch(const Snapshot& shot) {
    if (shot.stage == Stage::solving || shot.stage == Stage::debrief) return;
    if (!kept_.empty() && shot.time_s < kept_.back().time_s + apart_s_) return;
    if (kept_.size() >= kTimelineMost) {
        std::size_t to = 0;
        for (std::size_t from = 0; from < kept_.size(); from += 2) kept_[to++] = std::move(kept_[from]);
        kept_.resize(to);
        apart_s_ *= 2.0;
    }
    kept_.push_back(shot);
}

const Snapshot& Timeline::at(double time_s) const {
    GRAFTWRIGHT_CHECK(!kept_.empty(), "a time line with something on it");
    const auto after = std::upper_bound(kept_.begin(), kept_.end(), time_s,
                                        [](double t, const Snapshot& shot) { return t < shot.time_s; });
    return after == kept_.begin() ? *after : *(after - 1);
}

}  // namespace graftwright
