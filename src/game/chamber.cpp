#include "game/chamber.h"

#include <algorithm>

#include "closure/tying.h"
#include "hand/section_drive.h"

namespace graftwright {
namespace {

// All our choice: an open wound empties a chamber in some ten minutes, four bites hold most of it back,
// pressing on the donor squeezes it out in under a minute.
constexpr double kLostPerSecond = 1.0 / 600.0;
constexpr double kLostPerSecondAnchored = 1.0 / 6000.0;
constexpr double kLostPer_mNs = 1.0 / 1500.0;
constexpr double kShallow = 0.35;
// Viscoelastic is some thousand times as thick as water and plugs a film: only a wide gap shows through it.
constexpr double kPluggedBelow_um = 60.0;
constexpr double kHighestPressure_mmHg = 80.0;

}  // namespace

void Chamber::step(std::size_t bites, double pressed_mN) {
    if (view_.saline) return;
    const double rate = (bites >= kBitesThatAnchorADonor ? kLostPerSecondAnchored : kLostPerSecond) +
                        kLostPer_mNs * std::max(0.0, pressed_mN);
    level_ = std::max(0.0, level_ - rate / kTicksPerSecond);
}

void Chamber::refill() {
    level_ = 1.0;
    view_.saline = view_.stained = false;
    view_.streams.clear();
}

void Chamber::wash() {
    view_.saline = true;
    view_.stained = false;
    level_ = 1.0;
}

void Chamber::begin_check() {
    const bool saline = view_.saline;
    view_ = {};
    view_.saline = saline;
}

void Chamber::set_pressure(double mmHg) { view_.pressure_mmHg = std::clamp(mmHg, 0.0, kHighestPressure_mmHg); }

bool Chamber::shallow() const { return level_ < kShallow; }

void Chamber::look(const LiveWound* wound) {
    view_.streams.clear();
    if (wound == nullptr || !view_.stained || view_.pressure_mmHg <= 0.0) return;
    const std::size_t n = wound->seal_mmHg.size();
    if (!wound->converged || n == 0) return;
    // One stream for every stretch of the wound that does not seal, at its weakest place.
    std::size_t start = 0;
    while (start < n && wound->seal_mmHg[start] < view_.pressure_mmHg) ++start;
    for (std::size_t k = 0; k < n; ++k) {
        std::size_t j = (start + k) % n;
        if (wound->seal_mmHg[j] >= view_.pressure_mmHg) continue;
        LeakView::Stream stream;
        double least = wound->seal_mmHg[j] + 1.0;
        for (; k < n && wound->seal_mmHg[(start + k) % n] < view_.pressure_mmHg; ++k) {
            j = (start + k) % n;
            if (wound->seal_mmHg[j] >= least) continue;
            least = wound->seal_mmHg[j];
            stream.deg = 360.0 * static_cast<double>(j) / static_cast<double>(n);
            stream.strength = std::clamp(1.0 - least / view_.pressure_mmHg, 0.05, 1.0);
        }
        const bool plugged =
            !view_.saline && std::max(wound->gap_back_um[j], wound->gap_front_um[j]) < kPluggedBelow_um;
        if (!plugged && view_.dry) view_.streams.push_back(stream);
    }
}

}  // namespace graftwright
