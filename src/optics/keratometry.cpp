#include "optics/keratometry.h"

#include <cmath>

#include "base/check.h"
#include "base/units.h"
#include "optics/maps.h"

namespace graftwright {
namespace {

// Uniform samples make the least-squares fit a Fourier sum. 128 of them keep every harmonic up to
// 125 out of M, J0 and J45; sutures reach the ring with far lower ones.
constexpr int kRingSamples = 128;

}  // namespace

std::optional<Keratometry> read_keratometry(const AnteriorSurface& surface, double ring_diameter_mm) {
    GRAFTWRIGHT_CHECK(ring_diameter_mm > 0, "a keratometer's ring has a size");
    const double rho = ring_diameter_mm / 2;
    if (surface.radius_covered() < rho) return std::nullopt;
    PowerVector power;
    for (int i = 0; i < kRingSamples; ++i) {
        const double angle = 2 * kPi * i / kRingSamples;
        const double axial_D = axial_power_D(surface, rho, angle);
        power.M_D += axial_D / kRingSamples;
        power.J0_D += axial_D * std::cos(2 * angle) * 2 / kRingSamples;
        power.J45_D += axial_D * std::sin(2 * angle) * 2 / kRingSamples;
    }
    return keratometry_of_vector(power);
}

Keratometry keratometry_of_vector(const PowerVector& power) {
    const CornealPower cornea = cornea_of_vector(power);
    return {cornea.steep_D(), cornea.steep_axis_deg, cornea.flat_D(), cornea.mean_D, cornea.cylinder_D, power};
}

}  // namespace graftwright
