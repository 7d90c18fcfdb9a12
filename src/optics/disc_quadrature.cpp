#include "optics/disc_quadrature.h"

#include <cmath>
#include <cstddef>

#include "base/check.h"
#include "base/units.h"

namespace graftwright {
namespace {

struct GaussPoint {
    double place = 0, weight = 0;
};

// Gauss-Legendre on [0, 1] by Newton's method on the Legendre polynomial P_n (textbook).
std::vector<GaussPoint> gauss_legendre(int count) {
    std::vector<GaussPoint> points;
    points.reserve(static_cast<std::size_t>(count));
    for (int i = 1; i <= count; ++i) {
        double x = std::cos(kPi * (i - 0.25) / (count + 0.5));
        double derivative = 1;
        // Quadratic from this start: four steps reach rounding, the rest are spare.
        for (int step = 0; step < 8; ++step) {
            double previous = 1, value = x;
            for (int n = 2; n <= count; ++n) {
                const double next = ((2 * n - 1) * x * value - (n - 1) * previous) / n;
                previous = value;
                value = next;
            }
            derivative = count * (x * value - previous) / (x * x - 1);
            x -= value / derivative;
        }
        points.push_back({(1 + x) / 2, 1 / ((1 - x * x) * derivative * derivative)});
    }
    return points;
}

}  // namespace

std::vector<DiscNode> disc_quadrature(double radius, int radial, int angular) {
    GRAFTWRIGHT_CHECK(radius > 0 && radial > 0 && angular > 0, "a quadrature needs a size");
    std::vector<DiscNode> nodes;
    nodes.reserve(static_cast<std::size_t>(radial) * static_cast<std::size_t>(angular));
    for (const GaussPoint& ring : gauss_legendre(radial)) {
        const double rho = radius * std::sqrt(ring.place);
        for (int i = 0; i < angular; ++i) {
            const double angle = 2 * kPi * i / angular;
            nodes.push_back({rho * std::cos(angle), rho * std::sin(angle), ring.weight / angular});
        }
    }
    return nodes;
}

}  // namespace graftwright
