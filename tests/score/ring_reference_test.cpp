// The sutured ring against 3-D solids (CalculiX), case by case: tests/data/reference/ring_*.json, made by
// tools/reference. Required: cylinder within 10 %, mean K within 0.5 D, seal within 10 %, differences explained.
//
// Compared: curvature by the full quartic fit over the central 3.2 mm on both sides; the least over θ of the
// largest contact pressure over the depth, once at the five Gauss points, where this model asks for it, and once at
// its peak anywhere through the wall; mean opening, bend and contact. "Large" cases are geometrically nonlinear
// (neo-Hookean, pressure that follows, threads as strings) and are held against the stiffening by pressure; the
// others against N = 0.
//
// Found: cylinder within 1.6 %, mean K +0.02 to +0.22 D, opening within 0.6 %, bend within 0.0033 rad. Seal at the
// Gauss points +0.8 to +3.2 % with sixteen bites, +7.8 % with eight, +8.5 % on the large cases: there the bend is
// 0.0031 rad more than the solids', which at the hindmost fibre (z 0.25 mm) is 0.8 of the 1.05 kPa between them.
#include <cmath>
#include <string>

#include <catch2/catch.hpp>

#include "../scenes/recorded_ring.h"
#include "../scenes/test_surfaces.h"
#include "score/verification.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

enum class Strains { small, large };

RingResult solved(const nlohmann::json& reference, Strains strains = Strains::small) {
    RingResult got = solve_ring(scenes::recorded_ring(reference.at("input"), strains == Strains::large));
    REQUIRE(got.status.converged);
    return got;
}

// What an oblique bite must reach: cylinder within 10 % or 0.03 D, axis within 6°, seal within 15 % or 0.3 kPa, turn of
// the donor within 10 % or a quarter of a µm. Of seal and turn the solids have two readings each, at the five Gauss
// points of a fibre as it is and of the straight one that is closest to it, at the middle and over the thickness: a
// shell has straight fibres.
void compare_oblique(const std::string& name) {
    const nlohmann::json reference = scenes::reference_case(name);
    const RingResult got = solved(reference);
    const scenes::RecordedCurvature wanted = scenes::recorded_curvature(reference, "fourth_disc_1.6");
    const nlohmann::json& results = reference.at("results");
    const double seal = results.at("least_seal_at_5_gauss_points_kPa"),
                 straight_seal = results.at("least_seal_linear_fibre_at_5_gauss_points_kPa"),
                 v = results.value("mean_v_mm", 0.0), v_over_wall = results.value("mean_v_thickness_average_mm", 0.0);
    INFO(name << ": cylinder " << *got.cylinder_D << " (" << wanted.cylinder_D << ") D @ " << *got.steep_axis_deg
              << " (" << wanted.steep_axis_deg << "), mean K " << *got.mean_D << " (" << wanted.mean_D << ") D");
    INFO("seal " << *got.least_seal_kPa << " (" << seal << ", straight fibre " << straight_seal << ") kPa, [v] "
                 << 1e3 * *got.mean_v_mm << " (" << 1e3 * v << ", " << 1e3 * v_over_wall << ") um");
    CHECK_THAT(*got.cylinder_D, WithinRel(wanted.cylinder_D, 0.10) || WithinAbs(wanted.cylinder_D, 0.03));
    CHECK(std::abs(scenes::axis_difference_deg(*got.steep_axis_deg, wanted.steep_axis_deg)) < 6.0);
    CHECK_THAT(*got.mean_D, WithinAbs(wanted.mean_D, 0.5));
    CHECK_THAT(*got.least_seal_kPa, WithinRel(seal, 0.15) || WithinAbs(seal, 0.3) || WithinRel(straight_seal, 0.15));
    CHECK_THAT(*got.mean_v_mm, WithinRel(v, 0.10) || WithinRel(v_over_wall, 0.10) || WithinAbs(v, 2.5e-4) ||
                                   WithinAbs(v_over_wall, 2.5e-4));
}

void compare(const std::string& name, Strains strains) {
    const nlohmann::json reference = scenes::reference_case(name);
    scenes::check_ring(solved(reference, strains), reference);
}

}  // namespace

TEST_CASE("ring against 3-D solids: sixteen bites of one tension", "[score][reference]") {
    compare("ring_all", Strains::small);
}
TEST_CASE("ring against 3-D solids: an opposite pair at twice the tension", "[score][reference]") {
    compare("ring_pair", Strains::small);
}
TEST_CASE("ring against 3-D solids: a single bite at twice the tension", "[score][reference]") {
    compare("ring_single", Strains::small);
}
TEST_CASE("ring against 3-D solids: sixteen bites at half depth", "[score][reference]") {
    compare("ring_half_depth_all", Strains::small);
}
TEST_CASE("ring against 3-D solids: half-depth bites, an opposite pair at twice the tension", "[score][reference]") {
    compare("ring_half_depth_pair", Strains::small);
}
TEST_CASE("ring against 3-D solids: a donor larger by another quarter of a millimetre", "[score][reference]") {
    compare("ring_larger_donor", Strains::small);
}
TEST_CASE("ring against 3-D solids: eight tight bites", "[score][reference]") {
    compare("ring_eight_tight", Strains::small);
}
// Depths are unequal here, so the solids' strands are taut strings through the wound too. (ring_eight_thick_rim, whose
// strands go on along the meridian at different heights, leaves a couple that no thread can.) Ours: [u] 1.1 % less,
// which is 16 % of a contact that is k_c times what δ exceeds it by; [b_s] 0.0042 rad more, mean K 0.28 D.
TEST_CASE("ring against 3-D solids: eight bites in a rim thicker than the donor open between them",
          "[score][reference]") {
    const nlohmann::json reference = scenes::reference_case("ring_eight_thick_rim_strung");
    const RingResult got = solved(reference);
    const nlohmann::json& results = reference.at("results");
    CHECK_THAT(*got.mean_D, WithinAbs(scenes::recorded_curvature(reference, "fourth_disc_1.6").mean_D, 0.5));
    CHECK(*got.cylinder_D < 0.02);
    CHECK(*got.least_seal_kPa == 0.0);
    CHECK(results.at("least_seal_kPa").get<double>() == 0.0);
    CHECK_THAT(*got.mean_u_mm, WithinRel(results.at("mean_u_mm").get<double>(), 0.015));
    CHECK_THAT(*got.mean_bs_rad, WithinAbs(results.at("mean_bs_rad").get<double>(), 0.006));
    CHECK_THAT(*got.mean_contact_kPa, WithinRel(results.at("mean_contact_kPa").get<double>(), 0.2));
}

TEST_CASE("ring against 3-D solids: a whole bite shifted by 11 degrees, a short one", "[score][reference]") {
    compare_oblique("ring_shifted");
    compare_oblique("ring_short");
}
TEST_CASE("ring against 3-D solids: a skewed bite", "[score][reference]") { compare_oblique("ring_skewed_free"); }
TEST_CASE("ring against 3-D solids: bites that cross the wound obliquely", "[score][reference]") {
    compare_oblique("ring_oblique_4");
    // At 11° it decides where the thread is taken to leave its track, and whether the direction of all crossings
    // follows their ends (as ours does): the solids have 1.48 D with a way of 0.15 mm in the walls, 1.66 with the ends
    // at the faces, 1.75 and 2.07 where no crossing follows.
    compare_oblique("ring_oblique_free");
    compare_oblique("ring_oblique_unsprung");
    const RingResult got = solved(scenes::reference_case("ring_oblique"));
    const double least =
                     scenes::recorded_curvature(scenes::reference_case("ring_oblique"), "fourth_disc_1.6").cylinder_D,
                 most =
                     scenes::recorded_curvature(scenes::reference_case("ring_oblique_free_unsprung"), "fourth_disc_1.6")
                         .cylinder_D;
    CHECK(*got.cylinder_D > least);
    CHECK(*got.cylinder_D < most);
}
TEST_CASE("ring against 3-D solids: a bite of unequal depths", "[score][reference]") {
    // Solids: 0.27 D both ways; ours 0.26 and, shallow in the donor, 0.20, with the couple of a slanting strand taken
    // as the strand lies before anything moves.
    for (const char* name : {"ring_shallow_host", "ring_shallow_donor"}) {
        const nlohmann::json reference = scenes::reference_case(name);
        const RingResult got = solved(reference);
        const scenes::RecordedCurvature wanted = scenes::recorded_curvature(reference, "fourth_disc_1.6");
        CAPTURE(name, *got.cylinder_D, wanted.cylinder_D, *got.least_seal_kPa);
        CHECK_THAT(*got.cylinder_D, WithinAbs(wanted.cylinder_D, 0.07));
        CHECK(std::abs(scenes::axis_difference_deg(*got.steep_axis_deg, 0.0)) < 6.0);
        CHECK_THAT(*got.least_seal_kPa,
                   WithinRel(reference.at("results").at("least_seal_at_5_gauss_points_kPa").get<double>(), 0.05));
    }
}
TEST_CASE("ring against 3-D solids at large strains: an oblique bite", "[score][reference]") {
    // Solids 1.07 D @ 33 with a way of 0.15 mm in the walls; large strains leave 72 % of what small ones have.
    const nlohmann::json reference = scenes::reference_case("ring_oblique_large");
    const RingResult got = solved(reference, Strains::large), plain = solved(scenes::reference_case("ring_oblique"));
    const scenes::RecordedCurvature large = scenes::recorded_curvature(reference, "fourth_disc_1.6"),
                                    small = scenes::recorded_curvature(scenes::reference_case("ring_oblique"),
                                                                       "fourth_disc_1.6");
    CAPTURE(*got.cylinder_D, *plain.cylinder_D, *got.steep_axis_deg, *got.mean_v_mm);
    CHECK_THAT(*got.cylinder_D / *plain.cylinder_D, WithinAbs(large.cylinder_D / small.cylinder_D, 0.10));
    CHECK(std::abs(scenes::axis_difference_deg(*got.steep_axis_deg, large.steep_axis_deg)) < 6.0);
    CHECK(*got.least_seal_kPa == 0.0);
}
TEST_CASE("ring against 3-D solids at large strains: sixteen bites of one tension", "[score][reference]") {
    compare("ring_all_large", Strains::large);
}
TEST_CASE("ring against 3-D solids at large strains: an opposite pair at twice the tension", "[score][reference]") {
    compare("ring_pair_large", Strains::large);
}

TEST_CASE("ring against 3-D solids: what pressure's stiffening takes from a pair's cylinder is what large strains take",
          "[score][reference]") {
    // The design's figure: about a quarter, 24 to 26 % in nonlinear solids at 90 % depth.
    const auto cylinder = [](const char* name) {
        return scenes::recorded_curvature(scenes::reference_case(name), "fourth_disc_1.6").cylinder_D;
    };
    const double solids = cylinder("ring_pair_large") / cylinder("ring_pair");
    const nlohmann::json input = scenes::reference_case("ring_pair").at("input");
    const RingResult stiffened = solve_ring(scenes::recorded_ring(input, true)),
                     plain = solve_ring(scenes::recorded_ring(input, false));
    REQUIRE(stiffened.status.converged);
    REQUIRE(plain.status.converged);
    const double ours = *stiffened.cylinder_D / *plain.cylinder_D;
    CAPTURE(solids, ours);
    CHECK_THAT(ours, WithinAbs(solids, 0.02));
    CHECK_THAT(1.0 - ours, WithinAbs(0.25, 0.03));
}
