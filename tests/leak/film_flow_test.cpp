// Films between the faces against the cubic law's own numbers, and what runs out of an open wound.
#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

#include "../scenes/closure_scenes.h"
#include "leak/wound_test.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

using scenes::opened_by;
using scenes::standard_interface;

constexpr double kRing = 2.0 * kPi * 3.875;  // of the bed, mm
constexpr double kWall = 0.55;

}  // namespace

TEST_CASE("film: a worked case of the cubic law comes out as ten microlitres a minute", "[leak][handbook]") {
    // T10-11: w 1 mm, h 10 µm, Δp 1000 Pa, L 0.5 mm, µ 1 mPa·s: 1.66667e-10 m³/s = 10.000 µL/min.
    CHECK_THAT(60.0 * film_flow(1.0, 0.010, 0.5, 1e-3, 1e-9), WithinRel(10.0, 1e-12));
}

TEST_CASE("film: one gap between two of sixteen sutures leaks as T10-12 has it", "[leak][handbook]") {
    // w 1.571 mm, L 0.55 mm, µ 0.7 mPa·s; conductance in µL/min/mmHg, recalculated there to three digits.
    const auto conductance = [](double gap_um) {
        return 60.0 * film_flow(1.571, mm_from_um(gap_um), 0.55, kMPaPerMmHg, kAqueousViscosity);
    };
    CHECK_THAT(conductance(1.0), WithinRel(0.00272, 2e-3));
    CHECK_THAT(conductance(2.0), WithinRel(0.0218, 2e-3));
    CHECK_THAT(conductance(5.0), WithinRel(0.340, 2e-3));
    CHECK_THAT(conductance(10.0), WithinRel(2.72, 2e-3));
    CHECK_THAT(conductance(20.0), WithinRel(21.8, 2e-3));
    CHECK_THAT(conductance(50.0), WithinRel(340.0, 2e-3));
    // 5.3 µm takes 0.400; to two digits of the gap and its cube.
    CHECK_THAT(conductance(5.3), WithinRel(0.400, 0.03));
}

TEST_CASE("outflow: a wound open by the same gap all round leaks as one film as wide as the ring", "[leak][handbook]") {
    const WoundInterface interface = standard_interface();
    const double pressure = mpa_from_mmhg(10.0);
    for (double gap : {1e-3, 5e-3, 20e-3}) {
        CAPTURE(gap);
        CHECK_THAT(outflow_uL_min(interface, opened_by(interface, gap), pressure),
                   WithinRel(60.0 * film_flow(kRing, gap, kWall, pressure, kAqueousViscosity), 1e-9));
    }
}

TEST_CASE("outflow: faces that do not seal leak through a film of half a micrometre at least", "[leak]") {
    const WoundInterface interface = standard_interface();
    const double pressure = mpa_from_mmhg(10.0);
    const double roughness = 60.0 * film_flow(kRing, 0.5e-3, kWall, pressure, kAqueousViscosity);
    CHECK_THAT(outflow_uL_min(interface, opened_by(interface, 0.1e-3), pressure), WithinRel(roughness, 1e-9));
    // Pressed with 5 mmHg against 10: not sealed either.
    const double pressed = -mpa_from_mmhg(5.0) / interface.constants().k_c;
    CHECK_THAT(outflow_uL_min(interface, opened_by(interface, pressed), pressure), WithinRel(roughness, 1e-9));
    // 0.00425 µL/min/mmHg of the whole ring: nothing beside an inflow of 2.5 µL/min.
    CHECK(roughness < 0.06);
}

TEST_CASE("outflow: places leak side by side, sealed ones not at all", "[leak]") {
    const WoundInterface interface = standard_interface();
    const double pressure = mpa_from_mmhg(10.0);
    PointJumps jumps = opened_by(interface, -0.01);  // 75 mmHg
    CHECK(outflow_uL_min(interface, jumps, pressure) == 0.0);
    for (int j = 0; j < interface.points() / 4; ++j) jumps(0, j) = scenes::kInterference + 4e-3;
    CHECK_THAT(outflow_uL_min(interface, jumps, pressure),
               WithinRel(60.0 * film_flow(kRing / 4.0, 4e-3, kWall, pressure, kAqueousViscosity), 1e-9));
}

TEST_CASE("outflow: through a wedge the films stand in series", "[leak]") {
    // ∫ dz/h³ of h = h0 + b z over the wall: t · (1/h0² − 1/h1²) / (2 (h1 − h0)).
    const WoundInterface interface = standard_interface();
    const double pressure = mpa_from_mmhg(10.0), narrow = 10e-3, wide = 14e-3;
    PointJumps jumps = opened_by(interface, 0.5 * (narrow + wide));
    jumps.row(3).setConstant((wide - narrow) / kWall);
    const double integral = kWall * (1.0 / (narrow * narrow) - 1.0 / (wide * wide)) / (2.0 * (wide - narrow));
    const double wanted = 60.0 * kRing * pressure / (12.0 * kAqueousViscosity * integral);
    // Five Gauss points and the arc's growth with the depth, whose mean is right but not with 1/h³: 1 %.
    CHECK_THAT(outflow_uL_min(interface, jumps, pressure), WithinRel(wanted, 0.015));
    // Far wider in front changes little: the narrow end rules.
    CHECK(wanted < 60.0 * film_flow(kRing, wide, kWall, pressure, kAqueousViscosity));
    CHECK(wanted > 60.0 * film_flow(kRing, narrow, kWall, pressure, kAqueousViscosity));
}

TEST_CASE("seal: a wound that presses everywhere with one pressure holds that pressure and no more", "[leak]") {
    const WoundInterface interface = standard_interface();
    const PointJumps jumps = opened_by(interface, -0.004);
    const double holds = 0.004 * interface.constants().k_c;  // MPa: 30.0 mmHg
    for (int j = 0; j < interface.points(); ++j)
        CHECK_THAT(sealing_pressure(interface, jumps, j), WithinRel(holds, 1e-9));
    CHECK(sealed(interface, jumps, holds * (1.0 - 1e-9)));
    CHECK_FALSE(sealed(interface, jumps, holds * (1.0 + 1e-9)));
    CHECK(outflow_uL_min(interface, jumps, holds * 0.999) == 0.0);
    CHECK(outflow_uL_min(interface, jumps, holds * 1.001) > 0.0);
}

TEST_CASE("seal: the best fibre of its depth seals a place, the worst place decides for the wound", "[leak]") {
    const WoundInterface interface = standard_interface();
    PointJumps jumps = opened_by(interface, 0.0);
    jumps.row(3).setConstant(-0.02);  // closed in front, open behind
    const double front = 0.02 * interface.z(kFibres - 1) * interface.constants().k_c;
    CHECK_THAT(sealing_pressure(interface, jumps, 3), WithinRel(front, 1e-9));
    CHECK(sealed(interface, jumps, 0.99 * front));
    jumps(0, 17) += 1e-3;
    CHECK_FALSE(sealed(interface, jumps, 0.99 * front));
    CHECK(sealed(interface, jumps, 0.99 * front - 1e-3 * interface.constants().k_c));
}
