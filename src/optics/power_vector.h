// Powers of a surface or lens with a cylinder, as vectors that may be added and subtracted.
//
//   P(θ) = M + J0 cos 2θ + J45 sin 2θ    (dioptres; θ counter-clockwise from 3 o'clock)
//
// Two conventions share these three numbers and differ in the sign of J0 and J45:
// - CORNEAL: P(θ) is the cornea's own power along meridian θ. Steep meridian ½ atan2(J45, J0),
//   cylinder 2 √(J0² + J45²) >= 0. Keratometry and everything scored here speak this one.
// - REFRACTION (Thibos, Wheeler, Horner, Optom Vis Sci 1997;74:367-375): the spectacle lens
//   S / C x a that corrects, M = S + C/2, J0 = -(C/2) cos 2a, J45 = -(C/2) sin 2a. A cornea
//   steep at 90° is corrected with a minus cylinder at axis 180°: J0 > 0 there, J0 < 0 here.
// A function says in its name which one it takes. Angles in degrees, axes in [0, 180).
//
// Not here: vertex distance, lens thickness, the back of the cornea.
#pragma once

namespace graftwright {

struct PowerVector {
    double M_D = 0;
    double J0_D = 0;
    double J45_D = 0;

    // B = √(M² + J0² + J45²), the overall blur strength of a refraction.
    [[nodiscard]] double strength_D() const;
    // √(J0² + J45²), half the cylinder.
    [[nodiscard]] double half_cylinder_D() const;
    // M + J0 cos 2θ + J45 sin 2θ.
    [[nodiscard]] double along_D(double meridian_deg) const;
};

[[nodiscard]] PowerVector operator+(const PowerVector& a, const PowerVector& b);
[[nodiscard]] PowerVector operator-(const PowerVector& a, const PowerVector& b);
[[nodiscard]] PowerVector operator-(const PowerVector& a);
[[nodiscard]] PowerVector operator*(double factor, const PowerVector& a);

// An axis or meridian brought into [0, 180); 180 itself reads 0.
[[nodiscard]] double axis_in_half_turn_deg(double angle_deg);
// The turn from axis b to axis a the short way round, in [-90, 90): 179 and 1 are 2 degrees apart.
[[nodiscard]] double axis_difference_deg(double a_deg, double b_deg);

// A spectacle correction, sphere / cylinder x axis; either sign of cylinder.
struct Refraction {
    double sphere_D = 0;
    double cylinder_D = 0;
    double axis_deg = 0;
};

[[nodiscard]] PowerVector vector_of_refraction(const Refraction& refraction);
// The minus-cylinder form: C = -2 √(J0² + J45²), S = M - C/2, a = ½ atan2(J45, J0).
[[nodiscard]] Refraction refraction_of_vector(const PowerVector& vector);

// A corneal surface: mean power, cylinder >= 0 (steep - flat), meridian of greatest power.
// Without a cylinder the axis has no meaning and reads 0.
struct CornealPower {
    double mean_D = 0;
    double cylinder_D = 0;
    double steep_axis_deg = 0;

    [[nodiscard]] double steep_D() const { return mean_D + cylinder_D / 2; }
    [[nodiscard]] double flat_D() const { return mean_D - cylinder_D / 2; }
};

[[nodiscard]] PowerVector vector_of_cornea(const CornealPower& power);
[[nodiscard]] CornealPower cornea_of_vector(const PowerVector& vector);

// An astigmatism named by its steep meridian.
struct Astigmatism {
    double magnitude_D = 0;
    double steep_axis_deg = 0;
};

// Surgically induced astigmatism, after - before on the doubled angle:
// x = A cos 2a, y = A sin 2a with a the steep meridian; subtract, then halve the angle.
[[nodiscard]] Astigmatism induced_astigmatism(const Astigmatism& before, const Astigmatism& after);

}  // namespace graftwright
