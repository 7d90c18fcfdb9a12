#include "view/kit/power_colours.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "report/colour_scale.h"

namespace graftwright {
namespace {

constexpr double kLeftOut = 0.02, kMostSteps = 12.0;
constexpr std::size_t kShades = 256;  // more than a screen's eight bits can tell apart

Tone tone_of(const std::string& hex) {  // "#rrggbb"
    const auto pair = [&](std::size_t at) {
        return static_cast<std::uint8_t>(std::stoul(hex.substr(at, 2), nullptr, 16));
    };
    return {pair(1), pair(3), pair(5)};
}

std::array<Tone, kShades> all_shades() {
    std::array<Tone, kShades> shades{};
    for (std::size_t i = 0; i < kShades; ++i) shades[i] = tone_of(scale_colour(static_cast<double>(i) / (kShades - 1)));
    return shades;
}

// CIELAB's lightness from sRGB, D65 (IEC 61966-2-1, from memory).
double to_linear(std::uint8_t coded) {
    const double v = coded / 255.0;
    return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
}
double to_lab(double t) {
    constexpr double kDelta = 6.0 / 29.0;
    return t > kDelta * kDelta * kDelta ? std::cbrt(t) : t / (3.0 * kDelta * kDelta) + 4.0 / 29.0;
}

// Bilinear at (u, v) in grid steps; corners without a value are passed over. NaN where none has one.
double value_at(const SurfaceMap& map, double u, double v) {
    const int i = std::clamp(static_cast<int>(u), 0, map.n - 2), j = std::clamp(static_cast<int>(v), 0, map.n - 2);
    const double p = u - i, q = v - j;
    double sum = 0.0, weights = 0.0;
    for (const auto& [di, dj, weight] :
         {std::array<double, 3>{0, 0, (1 - p) * (1 - q)}, {1, 0, p * (1 - q)}, {0, 1, (1 - p) * q}, {1, 1, p * q}}) {
        const double value = static_cast<double>(map.at(i + static_cast<int>(di), j + static_cast<int>(dj)));
        if (!std::isfinite(value)) continue;
        sum += weight * value;
        weights += weight;
    }
    return weights > 1e-9 ? sum / weights : std::nan("");
}

}  // namespace

Tone power_tone(double share) {
    static const std::array<Tone, kShades> shades = all_shades();
    const double t = std::clamp(share, 0.0, 1.0);
    return shades[static_cast<std::size_t>(std::lround(t * (kShades - 1)))];
}

double lightness(Tone tone) {
    const double y = 0.2126 * to_linear(tone.r) + 0.7152 * to_linear(tone.g) + 0.0722 * to_linear(tone.b);
    return 116.0 * to_lab(y) - 16.0;
}

PowerRange common_range(const std::vector<const SurfaceMap*>& maps) {
    std::vector<float> values;
    for (const SurfaceMap* map : maps) {
        if (map == nullptr) continue;
        std::copy_if(map->value.begin(), map->value.end(), std::back_inserter(values),
                     [](float v) { return std::isfinite(v); });
    }
    if (values.empty()) return {};
    std::sort(values.begin(), values.end());
    const auto at = [&](double share) {
        return static_cast<double>(values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))]);
    };
    PowerRange range;
    const double low = at(kLeftOut), high = at(1.0 - kLeftOut);
    range.step_D = high - low > kMostSteps ? 2.0 : 1.0;
    range.low_D = range.step_D * std::floor(low / range.step_D);
    range.high_D = std::max(range.step_D * std::ceil(high / range.step_D), range.low_D + 2.0 * range.step_D);
    return range;
}

double map_radius_mm(const SurfaceMap& map) {
    double largest = 0.0;
    const double step = 2.0 * map.reach_mm / std::max(1, map.n - 1);
    for (int j = 0; j < map.n; ++j)
        for (int i = 0; i < map.n; ++i)
            if (std::isfinite(map.at(i, j)))
                largest = std::max(largest, std::hypot(step * i - map.reach_mm, step * j - map.reach_mm));
    return std::min(largest, map.reach_mm);
}

sf::Image power_image(const SurfaceMap& map, const PowerRange& range, unsigned pixels) {
    sf::Image image;
    image.create(pixels, pixels, sf::Color::Transparent);
    const double radius = map_radius_mm(map), size = pixels, per_mm = size / (2.0 * map.reach_mm);
    if (map.n < 2 || radius <= 0.0) return image;
    for (unsigned row = 0; row < pixels; ++row) {
        for (unsigned column = 0; column < pixels; ++column) {
            const double x = ((column + 0.5) / size * 2.0 - 1.0) * map.reach_mm;
            const double y = (1.0 - (row + 0.5) / size * 2.0) * map.reach_mm;
            const double inside = (radius - std::hypot(x, y)) * per_mm;  // pixels inside the circle
            if (inside <= 0.0) continue;
            const double steps = (map.n - 1) / (2.0 * map.reach_mm);
            const double value = value_at(map, (x + map.reach_mm) * steps, (y + map.reach_mm) * steps);
            if (!std::isfinite(value)) continue;
            const Tone tone = power_tone(range.share(value));
            const auto alpha = static_cast<sf::Uint8>(255.0 * std::min(1.0, inside / 1.5));
            image.setPixel(column, row, {tone.r, tone.g, tone.b, alpha});
        }
    }
    return image;
}

}  // namespace graftwright
