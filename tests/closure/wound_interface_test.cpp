#include "closure/wound_interface.h"

#include <algorithm>
#include <cmath>
#include <random>

#include <catch2/catch.hpp>

#include "../scenes/closure_scenes.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double kTinyJump = 1e-7;  // mm or rad: step of the finite differences

using scenes::opened_by;
using scenes::standard_interface;

struct Draw {
    std::mt19937_64 engine{20120217};
    double operator()(double low, double high) { return std::uniform_real_distribution<double>(low, high)(engine); }
};

PointJumps any_jumps(const WoundInterface& interface, Draw& draw) {
    PointJumps jumps = opened_by(interface, 0.0);
    for (int j = 0; j < interface.points(); ++j) {
        jumps(0, j) += draw(-0.04, 0.04);
        jumps(1, j) = draw(-0.03, 0.03);
        jumps(2, j) = draw(-0.03, 0.03);
        jumps(3, j) = draw(-0.1, 0.1);
    }
    return jumps;
}

// Fluid behind some fibres, some held, some beyond their bound.
FibreState any_state(const WoundInterface& interface, Draw& draw) {
    FibreState state = interface.fresh_state();
    for (int j = 0; j < interface.points(); ++j) {
        for (int k = 0; k < kFibres; ++k) {
            if (draw(0.0, 1.0) < 0.5) state.fluid(k, j) = draw(0.0, 0.03);
            state.held(k, j) = draw(0.0, 1.0) < 0.7;
            state.anchor_v(k, j) = draw(-0.01, 0.01);
            state.anchor_w(k, j) = draw(-0.01, 0.01);
            state.bound(k, j) = draw(0.0, 0.01);
        }
    }
    return state;
}

WoundInterface::Response response_at(const WoundInterface& interface, const PointJumps& jumps,
                                     const FibreState& state) {
    WoundInterface::Response response;
    interface.respond(jumps, state, true, response);
    return response;
}

// No fibre so close to one of the law's kinks that a finite difference would straddle it.
bool away_from_kinks(const WoundInterface& interface, const PointJumps& jumps, const FibreState& state, int j) {
    const double k_c = interface.constants().k_c, k_t = interface.constants().k_t;
    for (int k = 0; k < kFibres; ++k) {
        const double gap = interface.gap(jumps, j, k);
        const double slip = std::hypot(jumps(1, j) - state.anchor_v(k, j), jumps(2, j) - state.anchor_w(k, j));
        if (std::abs(gap) < 1e-5 || std::abs(-k_c * gap - state.fluid(k, j)) < 1e-5 * k_c) return false;
        if (state.held(k, j) && (std::abs(k_t * slip - state.bound(k, j)) < 1e-5 || slip < 1e-4)) return false;
    }
    return true;
}

}  // namespace

TEST_CASE("contact: a known opening presses with the stiffness times its squash, and no more", "[closure]") {
    const WoundInterface interface = standard_interface();
    const PointJumps closed = opened_by(interface, -0.011);
    const WoundInterface::Response response = response_at(interface, closed, interface.fresh_state());
    for (int k = 0; k < kFibres; ++k) CHECK_THAT(interface.solid_pressure(closed, 5, k), WithinRel(0.011, 1e-12));
    // 0.011 MPa over a wall of 0.55 mm; the longer arcs outside make up for the shorter ones inside.
    CHECK_THAT(response.force(0, 5), WithinRel(0.011 * 0.55, 1e-12));
    // The moment they leave: p t³/12R.
    CHECK_THAT(response.force(3, 5), WithinRel(0.011 * 0.55 * 0.55 * 0.55 / (12.0 * 7.525), 1e-10));
    CHECK(response.force.row(1).norm() == 0.0);
    CHECK(response.force.row(2).norm() == 0.0);
    // ½ k_c x² over the wall and all round.
    CHECK_THAT(response.energy, WithinRel(0.5 * 0.011 * 0.011 * 0.55 * 2.0 * kPi * 3.875, 1e-12));
}

TEST_CASE("contact: a tenth of a micrometre open presses with exactly nothing", "[closure]") {
    // The law is solved as it stands. A law smoothed over a few micrometres would "press" here with some mmHg and
    // fake a seal.
    const WoundInterface interface = standard_interface();
    const PointJumps open = opened_by(interface, 1e-4);
    const WoundInterface::Response response = response_at(interface, open, interface.fresh_state());
    for (int k = 0; k < kFibres; ++k) CHECK(interface.solid_pressure(open, 0, k) == 0.0);
    CHECK(response.force.cwiseAbs().maxCoeff() == 0.0);
    CHECK(response.tangent.cwiseAbs().maxCoeff() == 0.0);
    CHECK(response.energy == 0.0);
    // A tenth of a micrometre closed presses with that times k_c: 0.75 mmHg.
    CHECK_THAT(interface.solid_pressure(opened_by(interface, -1e-4), 0, 0), WithinRel(1e-4, 1e-9));
}

TEST_CASE("contact: a bend opens one side of the wall and closes the other", "[closure]") {
    const WoundInterface interface = standard_interface();
    PointJumps jumps = opened_by(interface, 0.0);
    jumps.row(3).setConstant(0.02);  // the front opens
    CHECK(interface.z(0) < 0.0);     // fibre 0 is the hindmost
    CHECK_THAT(interface.z(0), WithinAbs(-interface.z(kFibres - 1), 1e-15));
    CHECK(interface.solid_pressure(jumps, 0, 0) > 0.0);
    CHECK(interface.solid_pressure(jumps, 0, kFibres - 1) == 0.0);
    CHECK_THAT(interface.gap(jumps, 0, kFibres - 1), WithinRel(0.02 * interface.z(kFibres - 1), 1e-9));
}

TEST_CASE("contact: where fluid stands the traction is the larger of fluid and solid, and continuous", "[closure]") {
    const WoundInterface interface = standard_interface();
    constexpr double fluid = 0.004;
    FibreState state = interface.fresh_state();
    state.fluid.setConstant(fluid);
    const auto traction = [&](double squash) {
        return response_at(interface, opened_by(interface, -squash), state).force(0, 0) / 0.55;
    };
    const double k_c = interface.constants().k_c;
    for (double squash : {-0.05, -1e-4, 0.0, 0.002, 0.00399, 0.00401, 0.01, 0.03}) {
        CAPTURE(squash);
        CHECK_THAT(traction(squash), WithinRel(std::max(fluid, k_c * squash), 1e-12));
    }
    // No jump where the fibre changes hands, nor in the energy, whose slope the traction is.
    const double hand_over = fluid / k_c;
    CHECK_THAT(traction(hand_over + 1e-9) - traction(hand_over - 1e-9), WithinAbs(0.0, 2e-9 * k_c));
    const auto energy = [&](double squash) {
        return response_at(interface, opened_by(interface, -squash), state).energy;
    };
    CHECK_THAT(energy(hand_over + 1e-9) - energy(hand_over - 1e-9),
               WithinRel(2e-9 * fluid * 0.55 * 2.0 * kPi * 3.875, 1e-3));
}

TEST_CASE("contact: force is the energy's slope and tangent the force's, fluid and friction included",
          "[closure][property]") {
    const WoundInterface interface = standard_interface();
    Draw draw;
    int tried = 0;
    for (int round = 0; round < 4; ++round) {
        const PointJumps jumps = any_jumps(interface, draw);
        const FibreState state = any_state(interface, draw);
        const WoundInterface::Response here = response_at(interface, jumps, state);
        for (int j = 0; j < interface.points(); j += 5) {
            if (!away_from_kinks(interface, jumps, state, j)) continue;
            ++tried;
            Eigen::Matrix4d tangent = Eigen::Matrix4d::Zero();
            tangent(0, 0) = here.tangent(0, j);
            tangent(0, 3) = tangent(3, 0) = here.tangent(1, j);
            tangent(3, 3) = here.tangent(2, j);
            tangent(1, 1) = here.tangent(3, j);
            tangent(1, 2) = tangent(2, 1) = here.tangent(4, j);
            tangent(2, 2) = here.tangent(5, j);
            for (int component = 0; component < kRingUnknowns; ++component) {
                PointJumps up = jumps, down = jumps;
                up(component, j) += kTinyJump;
                down(component, j) -= kTinyJump;
                const auto above = response_at(interface, up, state), below = response_at(interface, down, state);
                CAPTURE(round, j, component);
                // Energies of 1e-3 N·mm carry rounding of 1e-19 over a step of 1e-7 mm and an arc of 0.2 mm.
                const double slope = (above.energy - below.energy) / (2.0 * kTinyJump * interface.arc());
                CHECK_THAT(-slope, WithinAbs(here.force(component, j), 1e-9));
                const Eigen::Vector4d change = (above.force.col(j) - below.force.col(j)) / (2.0 * kTinyJump);
                CHECK((change + tangent.col(component)).norm() < 1e-5);
            }
        }
    }
    CHECK(tried > 50);
}

TEST_CASE("contact: harmonics to points and points to harmonics are each other's transpose", "[closure][property]") {
    const WoundInterface interface = standard_interface();
    Draw draw;
    RingMatrix jump(kRingUnknowns, scenes::standard_model().columns());
    for (Eigen::Index i = 0; i < jump.size(); ++i) jump(i) = draw(-1.0, 1.0);
    const PointJumps forces = any_jumps(interface, draw);
    const double work_at_points = interface.arc() * interface.at_points(jump).cwiseProduct(forces).sum();
    const double work_of_harmonics = jump.cwiseProduct(interface.to_harmonics(forces)).sum();
    CHECK_THAT(work_of_harmonics, WithinRel(work_at_points, 1e-12));
}

TEST_CASE("contact: family A is even about 0 degrees in u, w, b_s and odd in v, family B the same turned",
          "[closure]") {
    const WoundInterface interface = standard_interface();
    RingMatrix jump = RingMatrix::Zero(kRingUnknowns, scenes::standard_model().columns());
    jump.col(ring_column(3, Family::A)).setOnes();
    const PointJumps a = interface.at_points(jump);
    jump.setZero();
    jump.col(ring_column(3, Family::B)).setOnes();
    const PointJumps b = interface.at_points(jump);
    for (int j = 0; j < interface.points(); ++j) {
        const double angle = 3.0 * interface.theta(j), c = std::cos(angle), s = std::sin(angle);
        CHECK((a.col(j) - Eigen::Vector4d(c, s, c, c)).norm() < 1e-12);
        CHECK((b.col(j) - Eigen::Vector4d(s, -c, s, s)).norm() < 1e-12);
    }
    jump.setZero();
    jump.col(0) << 1.0, 2.0, 3.0, 4.0;  // harmonic 0: all constant
    CHECK((interface.at_points(jump).colwise() - Eigen::Vector4d(1.0, 2.0, 3.0, 4.0)).norm() < 1e-12);
}

TEST_CASE("friction: a fibre is held from where it first pressed, by no more than the coefficient times its pressure",
          "[closure]") {
    const WoundInterface interface = standard_interface();
    FibreState state = interface.fresh_state();
    PointJumps jumps = opened_by(interface, -0.02);
    jumps.row(1).setConstant(0.003);
    CHECK(interface.update_bounds(jumps, state) > 0.0);
    CHECK(state.held.all());
    CHECK((state.anchor_v - 0.003).abs().maxCoeff() == 0.0);
    CHECK_THAT(state.bound(2, 7), WithinRel(0.3 * 0.02, 1e-12));
    CHECK(response_at(interface, jumps, state).force.row(1).norm() == 0.0);  // not yet moved
    CHECK(interface.update_bounds(jumps, state) == 0.0);                     // settled

    jumps.row(1).setConstant(0.003 + 0.01);  // k_t 0.3 · 0.01 = 0.003 < 0.006: sticks
    CHECK_THAT(response_at(interface, jumps, state).force(1, 0), WithinRel(-0.3 * 0.01 * 0.55, 1e-12));
    jumps.row(1).setConstant(0.003 + 0.1);  // slides
    CHECK_THAT(response_at(interface, jumps, state).force(1, 0), WithinRel(-0.3 * 0.02 * 0.55, 1e-12));
    interface.carry_anchors(jumps, state);  // and leaves the anchor as far behind as the bound stretches it
    CHECK_THAT(state.anchor_v(0, 0), WithinRel(0.103 - 0.3 * 0.02 / 0.3, 1e-12));

    jumps.row(0).setConstant(scenes::kInterference + 0.001);  // opens: nothing holds
    CHECK(interface.update_bounds(jumps, state) == 0.0);
    CHECK_FALSE(state.held.any());
}

TEST_CASE("friction: fluid that carries the whole load leaves nothing to rub", "[closure]") {
    const WoundInterface interface = standard_interface();
    FibreState state = interface.fresh_state();
    state.fluid.row(0).setConstant(0.03);  // behind; the solid would press with 0.02
    interface.update_bounds(opened_by(interface, -0.02), state);
    CHECK_FALSE(state.held.row(0).any());
    CHECK(state.held.bottomRows(kFibres - 1).all());
}
