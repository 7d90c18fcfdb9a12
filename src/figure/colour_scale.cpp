#include "figure/colour_scale.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "base/statistics.h"

namespace graftwright {
namespace {

constexpr double kLeftOut = 0.02, kMostSteps = 12.0;
constexpr std::array<unsigned, kScaleBands> kTable = {
#include "figure/colour_table.inc"
};

}  // namespace

Rgb scale_colour(double position) {
    const double at = std::clamp(position, 0.0, 1.0) * static_cast<double>(kTable.size() - 1);
    const auto index = std::min(static_cast<std::size_t>(at), kTable.size() - 2);
    const double share = at - static_cast<double>(index);
    const auto channel = [&](unsigned shift) {
        const double low = (kTable[index] >> shift) & 0xFFU, high = (kTable[index + 1] >> shift) & 0xFFU;
        return static_cast<std::uint8_t>(std::lround(low + share * (high - low)));
    };
    return {channel(16U), channel(8U), channel(0U)};
}

int dioptre_band(double power_D) {
    const double steps = std::floor((power_D - kAbsoluteScale.low_D) / kAbsoluteScale.step_D);
    return static_cast<int>(std::clamp(steps, -1.0, static_cast<double>(kScaleBands - 2))) + 1;
}

Rgb band_colour(int band) { return scale_colour(static_cast<double>(band) / (kScaleBands - 1)); }

PowerScale own_scale(const std::vector<const CurvatureMap*>& maps) {
    std::vector<double> values;
    for (const CurvatureMap* map : maps) {
        for (std::size_t i = 0; i < map->value_D.size(); ++i) {
            const double x = map->mm(static_cast<double>(i % map->across)),
                         y = map->mm(static_cast<double>(i / map->across));
            if (std::hypot(x, y) <= map->radius_mm) values.push_back(map->value_D[i]);
        }
    }
    if (values.empty()) return {};
    const double low = quantile(values, kLeftOut), high = quantile(values, 1.0 - kLeftOut);
    PowerScale scale;
    scale.step_D = high - low > kMostSteps ? 2.0 : 1.0;
    scale.low_D = scale.step_D * std::floor(low / scale.step_D);
    scale.high_D = std::max(scale.step_D * std::ceil(high / scale.step_D), scale.low_D + 2.0 * scale.step_D);
    return scale;
}

}  // namespace graftwright
