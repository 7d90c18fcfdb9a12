// Powers of a cornea with a cylinder, as vectors that may be subtracted.
//
//   P(θ) = M + J0 cos 2θ + J45 sin 2θ    (dioptres; θ counter-clockwise from 3 o'clock)
//
// P(θ) is the cornea's own power along meridian θ: steep meridian ½ atan2(J45, J0), cylinder
// 2 √(J0² + J45²) >= 0. A spectacle refraction S / C x a is written with the same three letters (Thibos,
// Wheeler, Horner, Optom Vis Sci 1997;74:367-375) and the opposite sign of J0 and J45: a cornea steep at 90°
// is corrected with a minus cylinder at axis 180°, J0 > 0 there, J0 < 0 here. Angles in degrees, axes in [0, 180).
//
// Not here: refractions, vertex distance, the back of the cornea.
#pragma once

namespace graftwright {

struct PowerVector {
    double M_D = 0;
    double J0_D = 0;
    double J45_D = 0;

    // √(J0² + J45²), half the cylinder.
    [[nodiscard]] double half_cylinder_D() const;
    // M + J0 cos 2θ + J45 sin 2θ.
    [[nodiscard]] double along_D(double meridian_deg) const;
};

[[nodiscard]] PowerVector operator-(const PowerVector& a, const PowerVector& b);

// An axis or meridian brought into [0, 180); 180 itself reads 0.
[[nodiscard]] double axis_in_half_turn_deg(double angle_deg);

// A corneal surface: mean power, cylinder >= 0 (steep - flat), meridian of greatest power.
// Without a cylinder the axis has no meaning and reads 0.
struct CornealPower {
    double mean_D = 0;
    double cylinder_D = 0;
    double steep_axis_deg = 0;

    [[nodiscard]] double steep_D() const { return mean_D + cylinder_D / 2; }
    [[nodiscard]] double flat_D() const { return mean_D - cylinder_D / 2; }
};

[[nodiscard]] CornealPower cornea_of_vector(const PowerVector& vector);

}  // namespace graftwright
