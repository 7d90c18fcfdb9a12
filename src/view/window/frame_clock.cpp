#include "view/window/frame_clock.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <GL/gl.h>
#include <sys/resource.h>

#include "base/statistics.h"

namespace graftwright {
namespace {

double most_resident_MB() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024.0;  // the system counts in KiB
}

}  // namespace

void FrameClock::frame(double own_ms, double whole_ms) {
    own_ms_.push_back(own_ms);
    whole_ms_.push_back(whole_ms);
}

FrameReport FrameClock::report(double first_frame_s) const {
    FrameReport report;
    report.frames = frames();
    if (report.frames > 0) {
        report.own_median_ms = quantile(own_ms_, 0.5);
        report.own_p99_ms = quantile(own_ms_, 0.99);
        report.whole_median_ms = quantile(whole_ms_, 0.5);
    }
    const double total_ms = std::accumulate(whole_ms_.begin(), whole_ms_.end(), 0.0);
    if (total_ms > 0.0) report.frames_per_s = 1000.0 * frames() / total_ms;
    report.first_frame_s = first_frame_s;
    report.memory_MB = most_resident_MB();
    if (const auto* renderer = glGetString(GL_RENDERER)) report.renderer = reinterpret_cast<const char*>(renderer);
    return report;
}

}  // namespace graftwright
