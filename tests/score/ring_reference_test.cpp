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
#include "score/verification.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

enum class Strains { small, large };

void compare(const std::string& name, Strains strains) {
    const nlohmann::json reference = scenes::reference_case(name);
    const RingResult got = solve_ring(scenes::recorded_ring(reference.at("input"), strains == Strains::large));
    REQUIRE(got.status.converged);
    scenes::check_ring(got, reference);
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
TEST_CASE("ring against 3-D solids: eight bites in a rim thicker than the donor open between them",
          "[score][reference]") {
    compare("ring_eight_thick_rim", Strains::small);
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
