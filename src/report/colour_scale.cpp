#include "report/colour_scale.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include <fmt/format.h>

namespace graftwright {
namespace {

constexpr std::array<unsigned, kScaleBands> kTable = {
#include "report/colour_table.inc"
};

}  // namespace

std::string scale_colour(double position) {
    const double at = std::clamp(position, 0.0, 1.0) * static_cast<double>(kTable.size() - 1);
    const auto index = std::min(static_cast<std::size_t>(at), kTable.size() - 2);
    const double share = at - static_cast<double>(index);
    unsigned colour = 0;
    for (const unsigned shift : {16U, 8U, 0U}) {
        const double low = (kTable[index] >> shift) & 0xFFU, high = (kTable[index + 1] >> shift) & 0xFFU;
        colour |= static_cast<unsigned>(std::lround(low + share * (high - low))) << shift;
    }
    return fmt::format("#{:06x}", colour);
}

int dioptre_band(double power_D) {
    const double steps = std::floor((power_D - kScaleLow_D) / kScaleStep_D);
    return static_cast<int>(std::clamp(steps, -1.0, static_cast<double>(kScaleBands - 2))) + 1;
}

std::string band_colour(int band) { return scale_colour(static_cast<double>(band) / (kScaleBands - 1)); }

}  // namespace graftwright
