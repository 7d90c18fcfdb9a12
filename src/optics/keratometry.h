// What a keratometer reads: corneal power on one ring about the vertex normal.
//
// Axial power Ka(θ) (optics/maps.h) on the ring of 3 mm DIAMETER, fitted by least squares with
//   M + J0 cos 2θ + J45 sin 2θ,
// steep and flat = M ± √(J0² + J45²), cylinder = steep - flat, steep axis = ½ atan2(J45, J0).
// These are corneal powers: J0 and J45 have the opposite sign of a spectacle refraction's.
// The fit takes all meridians alike; an instrument with four marks sees the same on a cornea that
// is regular and something else on one that is not.
#pragma once

#include <optional>

#include "optics/power_vector.h"
#include "optics/surface.h"

namespace graftwright {

// The usual zone of a keratometer (common practice; figures vary from 2.8 to 3.4 mm by make).
inline constexpr double kKeratometerRingDiameterMm = 3.0;

struct Keratometry {
    double steep_D = 0;
    double steep_axis_deg = 0;  // in [0, 180)
    double flat_D = 0;
    double mean_D = 0;
    double cylinder_D = 0;
    PowerVector power;
};

// Nothing where the surface does not reach out to the ring.
[[nodiscard]] std::optional<Keratometry> read_keratometry(const AnteriorSurface& surface,
                                                          double ring_diameter_mm = kKeratometerRingDiameterMm);

// The same reading from a power vector already at hand (corneal convention).
[[nodiscard]] Keratometry keratometry_of_vector(const PowerVector& power);

}  // namespace graftwright
