#include "optics/power_vector.h"

#include <cmath>

#include <catch2/catch.hpp>

#include "../scenes/test_surfaces.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;

namespace {

// Closed forms: only rounding of sines and square roots is between them and us.
constexpr double kVectorRounding = 1e-12;
// Figures written to six decimals.
constexpr double kSixDecimals = 5.1e-7;

}  // namespace

// Double angle with the steep meridian (Holladay): the formula as stated in IOVS (seen), the
// numbers calculated.
TEST_CASE("power vector: from 4.00 at 90 to 2.00 at 60 is a change of 3.464102 at 15", "[optics][standard]") {
    const CornealPower change =
        cornea_of_vector(scenes::vector_of_cornea({0, 2.00, 60}) - scenes::vector_of_cornea({0, 4.00, 90}));
    CHECK_THAT(change.cylinder_D, WithinAbs(3.464102, kSixDecimals));
    CHECK_THAT(change.steep_axis_deg, WithinAbs(15.0, 1e-10));
}

TEST_CASE("power vector: from 1.50 at 20 to 2.00 at 110 is a change of 3.50 at 110, not 0.50", "[optics][standard]") {
    const CornealPower change =
        cornea_of_vector(scenes::vector_of_cornea({0, 2.00, 110}) - scenes::vector_of_cornea({0, 1.50, 20}));
    CHECK_THAT(change.cylinder_D, WithinAbs(3.50, kVectorRounding));
    CHECK_THAT(change.steep_axis_deg, WithinAbs(110.0, 1e-10));
}

// Components of a refraction: Thibos, Wheeler, Horner, Optom Vis Sci 1997;74:367-375 (in words), from memory. The
// cornea that -1.00/-2.00x30 corrects has J0, J45 of opposite sign: M -2, J0 +0.5, J45 +0.866025 there.
TEST_CASE("power vector: a cornea steep at 120 with 2 D has J0 -0.5, J45 -0.866025", "[optics][standard]") {
    const CornealPower cornea = cornea_of_vector({43.0, -0.5, -0.866025});
    CHECK_THAT(cornea.cylinder_D, WithinAbs(2.0, 2 * kSixDecimals));
    CHECK_THAT(cornea.steep_axis_deg, WithinAbs(120.0, 1e-4));
}

TEST_CASE("power vector: a cornea comes back from its vector, steepest along its steep meridian",
          "[optics][handbook]") {
    for (double axis_deg = 0; axis_deg < 180; axis_deg += 7.5) {
        const PowerVector vector = scenes::vector_of_cornea({43.0, 3.0, axis_deg});
        const CornealPower cornea = cornea_of_vector(vector);
        INFO("axis " << axis_deg);
        CHECK_THAT(cornea.cylinder_D, WithinAbs(3.0, 1e-11));
        CHECK_THAT(cornea.steep_axis_deg, WithinAbs(axis_deg, 1e-10));
        CHECK_THAT(vector.along_D(axis_deg), WithinAbs(44.5, 1e-11));
        CHECK_THAT(vector.along_D(axis_deg + 90), WithinAbs(41.5, 1e-11));
    }
}

TEST_CASE("power vector: axes are brought into [0, 180) and no cylinder reads axis 0", "[optics][handbook]") {
    CHECK(axis_in_half_turn_deg(180) == 0);
    CHECK(axis_in_half_turn_deg(-30) == 150);
    CHECK(axis_in_half_turn_deg(725) == 5);
    CHECK(axis_in_half_turn_deg(-1e-20) == 0);
    CHECK_FALSE(std::signbit(axis_in_half_turn_deg(-360)));
    CHECK(cornea_of_vector({43.0, -0.0, -0.0}).steep_axis_deg == 0);
}
