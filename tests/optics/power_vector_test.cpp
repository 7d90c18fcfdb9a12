#include "optics/power_vector.h"

#include <cmath>

#include <catch2/catch.hpp>

using namespace graftwright;
using Catch::Matchers::WithinAbs;

namespace {

// Closed forms: only rounding of sines and square roots is between them and us.
constexpr double kRounding = 1e-12;
// Figures written to six decimals.
constexpr double kSixDecimals = 5.1e-7;
// Angles written to four decimals.
constexpr double kFourDecimals = 5.1e-5;

}  // namespace

// Components and strength B: Thibos, Wheeler, Horner, Optom Vis Sci 1997;74:367-375 (in words);
// the formulas from memory, the numbers calculated from them by hand.
TEST_CASE("power vector: -1.00/-2.00x30 is M -2, J0 +0.5, J45 +0.866025, B 2.236068", "[optics][standard]") {
    const PowerVector vector = vector_of_refraction({-1.00, -2.00, 30});
    CHECK_THAT(vector.M_D, WithinAbs(-2.0, kRounding));
    CHECK_THAT(vector.J0_D, WithinAbs(0.5, kRounding));
    CHECK_THAT(vector.J45_D, WithinAbs(0.866025, kSixDecimals));
    CHECK_THAT(vector.strength_D(), WithinAbs(2.236068, kSixDecimals));
}

TEST_CASE("power vector: +2.00/-1.50x45 is M 1.25, J0 0, J45 0.75, B 1.457738", "[optics][standard]") {
    const PowerVector vector = vector_of_refraction({2.00, -1.50, 45});
    CHECK_THAT(vector.M_D, WithinAbs(1.25, kRounding));
    CHECK_THAT(vector.J0_D, WithinAbs(0.0, kRounding));
    CHECK_THAT(vector.J45_D, WithinAbs(0.75, kRounding));
    CHECK_THAT(vector.strength_D(), WithinAbs(1.457738, kSixDecimals));
}

// From the same formulas (memory), numbers calculated.
TEST_CASE("power vector: crossed cylinders add to +0.118034/-2.236068x43.2825", "[optics][standard]") {
    const PowerVector sum = vector_of_refraction({1.00, -2.00, 30}) + vector_of_refraction({-0.50, -1.00, 75});
    CHECK_THAT(sum.M_D, WithinAbs(-1.0, kRounding));
    CHECK_THAT(sum.J0_D, WithinAbs(0.066987, kSixDecimals));
    CHECK_THAT(sum.J45_D, WithinAbs(1.116025, kSixDecimals));
    const Refraction lens = refraction_of_vector(sum);
    CHECK_THAT(lens.sphere_D, WithinAbs(0.118034, kSixDecimals));
    CHECK_THAT(lens.cylinder_D, WithinAbs(-2.236068, kSixDecimals));
    CHECK_THAT(lens.axis_deg, WithinAbs(43.2825, kFourDecimals));
}

// Double angle with the steep meridian (Holladay): the formula as stated in IOVS (seen), the
// numbers calculated.
TEST_CASE("power vector: 4.00 at 90 to 2.00 at 60 is an induced 3.464102 at 15", "[optics][standard]") {
    const Astigmatism induced = induced_astigmatism({4.00, 90}, {2.00, 60});
    CHECK_THAT(induced.magnitude_D, WithinAbs(3.464102, kSixDecimals));
    CHECK_THAT(induced.steep_axis_deg, WithinAbs(15.0, 1e-10));
}

TEST_CASE("power vector: 1.50 at 20 to 2.00 at 110 is an induced 3.50 at 110, not 0.50", "[optics][standard]") {
    const Astigmatism induced = induced_astigmatism({1.50, 20}, {2.00, 110});
    CHECK_THAT(induced.magnitude_D, WithinAbs(3.50, kRounding));
    CHECK_THAT(induced.steep_axis_deg, WithinAbs(110.0, 1e-10));
}

TEST_CASE("power vector: a refraction comes back from its vector in minus-cylinder form", "[optics][handbook]") {
    for (double axis_deg = 0; axis_deg < 180; axis_deg += 7.5) {
        const Refraction lens = refraction_of_vector(vector_of_refraction({-3.25, -1.75, axis_deg}));
        INFO("axis " << axis_deg);
        CHECK_THAT(lens.sphere_D, WithinAbs(-3.25, kRounding));
        CHECK_THAT(lens.cylinder_D, WithinAbs(-1.75, kRounding));
        CHECK_THAT(lens.axis_deg, WithinAbs(axis_deg, 1e-10));
        // Transposition: the same lens written with a plus cylinder at right angles.
        const PowerVector plus = vector_of_refraction({-5.00, 1.75, axis_deg + 90});
        const PowerVector difference = plus - vector_of_refraction({-3.25, -1.75, axis_deg});
        CHECK_THAT(difference.strength_D(), WithinAbs(0, kRounding));
    }
}

TEST_CASE("power vector: a cornea comes back from its vector, steepest along its steep meridian",
          "[optics][handbook]") {
    for (double axis_deg = 0; axis_deg < 180; axis_deg += 7.5) {
        const PowerVector vector = vector_of_cornea({43.0, 3.0, axis_deg});
        const CornealPower cornea = cornea_of_vector(vector);
        INFO("axis " << axis_deg);
        CHECK_THAT(cornea.cylinder_D, WithinAbs(3.0, 1e-11));
        CHECK_THAT(cornea.steep_axis_deg, WithinAbs(axis_deg, 1e-10));
        CHECK_THAT(vector.along_D(axis_deg), WithinAbs(44.5, 1e-11));
        CHECK_THAT(vector.along_D(axis_deg + 90), WithinAbs(41.5, 1e-11));
    }
}

TEST_CASE("power vector: the lens that corrects a cornea has J0 and J45 of opposite sign", "[optics][handbook]") {
    // A minus cylinder weakens the meridian across its axis: axis 120 for a cornea steep at 30.
    const PowerVector cornea = vector_of_cornea({0, 2.0, 30});
    const PowerVector lens = vector_of_refraction({1.0, -2.0, 120});
    CHECK_THAT((lens + cornea).strength_D(), WithinAbs(0, kRounding));
    CHECK(cornea.J0_D > 0.4);
    CHECK(lens.J0_D < -0.4);
}

TEST_CASE("power vector: axes are brought into [0, 180) and no cylinder reads axis 0", "[optics][handbook]") {
    CHECK(axis_in_half_turn_deg(180) == 0);
    CHECK(axis_in_half_turn_deg(-30) == 150);
    CHECK(axis_in_half_turn_deg(725) == 5);
    CHECK(axis_in_half_turn_deg(-1e-20) == 0);
    CHECK_FALSE(std::signbit(axis_in_half_turn_deg(-360)));
    CHECK(axis_difference_deg(1, 179) == 2);
    CHECK(axis_difference_deg(179, 1) == -2);
    CHECK(axis_difference_deg(100, 30) == 70);
    CHECK(cornea_of_vector({43.0, -0.0, -0.0}).steep_axis_deg == 0);
    CHECK(refraction_of_vector({1.0, -0.0, 0.0}).axis_deg == 0);
}
