// Running threads in the wound: what they must do whatever the numbers are.
#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include <catch2/catch.hpp>

#include "../scenes/running_scenes.h"
#include "leak/wound_test.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using scenes::RunScene;
using scenes::SagittaPower;

namespace {

const WoundModel& model() { return scenes::standard_model(); }
const double kPressure = mpa_from_mmhg(15.0);

// Depths and lengths as a middling hand has them.
std::vector<BiteGeometry> uneven_run(int count, unsigned seed, double first_deg = 90.0) {
    std::mt19937_64 engine(seed);
    std::normal_distribution<double> normal;
    std::vector<BiteGeometry> bites = scenes::equal_run(count, first_deg);
    for (BiteGeometry& bite : bites) {
        bite.donor_theta += 0.02 * normal(engine);
        bite.host_theta = bite.donor_theta + 0.01 * normal(engine);
        bite.donor_length += 0.15 * normal(engine);
        bite.host_length += 0.15 * normal(engine);
        bite.donor_depth = std::clamp(bite.donor_depth + 0.06 * normal(engine), 0.2, 0.54);
        bite.host_depth = std::clamp(bite.host_depth + 0.06 * normal(engine), 0.2, 0.54);
    }
    return bites;
}

double spread(const std::vector<double>& values) {
    const auto [low, high] = std::minmax_element(values.begin(), values.end());
    return *high - *low;
}

SagittaPower power_of(const RunScene& scene) {
    std::vector<const ThreadPath*> paths;
    for (const auto& thread : scene.system.threads()) paths.push_back(&thread->path);
    const ClosureState& state = scene.closure.state();
    return scenes::sagitta_power(
        model().donor(), model().donor_displacement(state.pressure, state.donor_edge(), paths, state.tension, 2));
}

}  // namespace

TEST_CASE("run: belt friction between spans as Euler and Eytelwein have it", "[closure][handbook]") {
    // T9-01: µ 0.3, one turn 6.586, two turns 43.376. Drawn at the ends alone, a run of four bites of a whole turn
    // each.
    const std::vector<double> drawn = drawn_tensions(1.0, 0.0, 0.3, std::vector<double>(5, 2.0 * kPi));
    CHECK_THAT(1.0 / drawn[0], WithinAbs(6.586, 5e-4));
    CHECK_THAT(1.0 / drawn[1], WithinAbs(43.376, 5e-3));
    CHECK_THAT(1.0 / drawn[3], WithinAbs(6.586, 5e-4));
    CHECK(drawn[4] == 1.0);
    // Worked round, each span has lost only at the next one.
    for (const double tension : drawn_tensions(1.0, 1.0, 0.3, std::vector<double>(5, 2.0 * kPi)))
        CHECK((tension == 1.0 || std::abs(1.0 / tension - 6.586) < 5e-4));
    // Without friction neither matters.
    for (const double tension : drawn_tensions(1.0, 0.0, 0.0, std::vector<double>(5, 2.0 * kPi))) CHECK(tension == 1.0);
    // At the limit the lagged bound is the belt's own: T_behind = T_before exp(µφ).
    const double angle = 0.3 * 2.0 * kPi;
    CHECK_THAT(belt_grip(angle, 1.0, std::exp(angle)), WithinRel(std::exp(angle) - 1.0, 1e-12));
}

TEST_CASE("run: the threads' energy has the slope and the spans the lengths that are told", "[closure][property]") {
    constexpr double kTiny = 1e-6;
    for (const double friction : {0.0, 0.05, 0.3}) {
        RunScene scene(model(), {scenes::bite_at(10.0), scenes::bite_at(200.0)}, {{uneven_run(7, 4), friction}});
        const ReducedSystem reduced = scene.system.at(kPressure);
        RingMatrix jump = RingMatrix::Zero(kRingUnknowns, 2 * model().columns());
        std::mt19937_64 engine(11);
        std::normal_distribution<double> normal;
        for (Eigen::Index c = 0; c < jump.cols(); ++c)
            for (Eigen::Index r = 0; r < jump.rows(); ++r)
                jump(r, c) = 0.02 * normal(engine) / (1.0 + static_cast<double>(c));
        jump(0, 0) += 0.1;
        std::vector<Knot> knots(scene.system.size());
        for (std::size_t b = 0; b < knots.size(); ++b) {
            const double stiffness = scenes::kThreadEA / scene.system.threads()[b]->path.length;
            knots[b] = {Hold::locked, 12e-3, 0.0, stiffness, 4e-3};
        }
        const ThreadResponse at_rest = scene.threads.respond(reduced, knots, jump);
        for (std::size_t b = 0; b < knots.size(); ++b)
            knots[b].tie_elongation = at_rest.elongation[static_cast<Eigen::Index>(b)] + 0.03 * normal(engine);
        const ThreadResponse here = scene.threads.respond(reduced, knots, jump);
        CAPTURE(friction, here.tension.transpose());
        if (friction == 0.0) CHECK(here.unknowns < 4);
        RingMatrix gradient = RingMatrix::Zero(kRingUnknowns, jump.cols());
        for (std::size_t b = 0; b < knots.size(); ++b)
            gradient +=
                here.tension[static_cast<Eigen::Index>(b)] * scene.threads.elongation_gradient(reduced, here, b);
        for (Eigen::Index c = 0; c < jump.cols(); c += 7) {
            for (Eigen::Index r = 0; r < kRingUnknowns; ++r) {
                RingMatrix up = jump, down = jump;
                up(r, c) += kTiny;
                down(r, c) -= kTiny;
                const double slope = (scene.threads.respond(reduced, knots, up).energy -
                                      scene.threads.respond(reduced, knots, down).energy) /
                                     (2.0 * kTiny);
                CAPTURE(r, c);
                CHECK_THAT(slope, WithinAbs(gradient(r, c), 1e-9));
            }
        }
    }
}

TEST_CASE("run: turned as a whole the donor lengthens each span as its obliquity says", "[closure]") {
    RunScene scene(model(), {}, {{scenes::equal_run(12), 0.0}});
    const ReducedSystem reduced = scene.system.at(0.0);
    const std::vector<Knot> knots(scene.system.size());
    RingMatrix turned = RingMatrix::Zero(kRingUnknowns, 2 * model().columns());
    constexpr double kTurn = 1e-5;  // mm of the host's edge, counter-clockwise against the donor
    turned(1, 0) = kTurn;
    const ThreadResponse rest =
        scene.threads.respond(reduced, knots, RingMatrix::Zero(kRingUnknowns, 2 * model().columns()));
    const ThreadResponse then = scene.threads.respond(reduced, knots, turned);
    // A host exit that comes nearer to the next donor entry, counter-clockwise of it, shortens the span by sin ψ. A
    // turn of rigid sides: the rings' static modes carry the whole of each side along only where nothing holds it, so
    // the host, held behind, gives part of it: the sign and the order are the theory's, not the figure.
    const double psi = scene.system.threads()[0]->span->obliquity;
    for (Eigen::Index b = 0; b < 12; ++b) {
        const double per_mm = (then.elongation[b] - rest.elongation[b]) / kTurn;
        CHECK(per_mm < 0.0);
        CHECK(per_mm > -2.0 * std::sin(psi));
    }
}

TEST_CASE("run: one bite and its knot are a single bite, whatever the friction", "[closure]") {
    // Three single bites of a scene, and the same with each a run of its own.
    const std::vector<BiteGeometry> bites = {scenes::bite_at(90.0), scenes::bite_at(210.0), scenes::bite_at(330.0),
                                             scenes::bite_at(30.0)};
    scenes::Scene singles(model(), bites);
    REQUIRE(singles.tie());
    REQUIRE(singles.closure.fill(mpa_from_mmhg(5.0)));
    RunScene runs(model(), {bites[0], bites[1], bites[2]}, {{{bites[3]}, 0.2}});
    REQUIRE(runs.tie(scenes::kTension));
    REQUIRE(runs.closure.fill(mpa_from_mmhg(5.0)));
    for (Eigen::Index b = 0; b < 4; ++b)
        CHECK_THAT(runs.closure.state().tension[b], WithinRel(singles.closure.state().tension[b], 2e-3));
}

TEST_CASE("run: without friction the whole thread has one tension, even over uneven bites", "[closure]") {
    RunScene scene(model(), {}, {{uneven_run(16, 5), 0.0}});
    REQUIRE(scene.tie(12e-3));
    REQUIRE(scene.closure.fill(kPressure));
    const std::vector<double> spans = scene.spans();
    CHECK(spread(spans) < 1e-12);
    CHECK(spans.front() > 12e-3);  // pressure tightens the locked loop
}

TEST_CASE("run: an even one leaves no cylinder, and turns the donor against its lay", "[closure]") {
    RunScene scene(model(), {}, {{scenes::equal_run(16), 0.0}});
    REQUIRE(scene.tie(12e-3));
    REQUIRE(scene.closure.fill(kPressure));
    CHECK(power_of(scene).cylinder() < 0.02);
    // Host less donor, counter-clockwise: the donor has gone clockwise. Laid the other way round it goes the other way.
    const double turned = scene.closure.state().jump()(1, 0);
    CHECK(turned > 0.01);
    std::vector<BiteGeometry> reversed = scenes::equal_run(16);
    std::reverse(reversed.begin(), reversed.end());
    RunScene other(model(), {}, {{reversed, 0.0}});
    REQUIRE(other.tie(12e-3));
    REQUIRE(other.closure.fill(kPressure));
    CHECK_THAT(other.closure.state().jump()(1, 0), WithinRel(-turned, 1e-6));
    // Single bites of the same even ring do not turn it.
    scenes::Scene singles(model(), scenes::equal_bites(16));
    REQUIRE(singles.tie(12e-3));
    REQUIRE(singles.closure.fill(kPressure));
    CHECK(std::abs(singles.closure.state().jump()(1, 0)) < 0.05 * turned);
}

TEST_CASE("run: filled and emptied, neighbours keep within the belt's ratio and the thread its length",
          "[closure][property]") {
    for (const double friction : {0.02, 0.1, 0.3}) {
        RunScene scene(model(), {}, {{uneven_run(12, 8), friction}});
        REQUIRE(scene.tie(20e-3, 0.0));  // drawn at its ends: much to even out
        const RunOfSpans& run = scene.system.runs().front();
        const auto own_length = [&] {
            double sum = 0.0;
            for (std::size_t k = 0; k < run.count; ++k) sum += scene.closure.state().knots[run.span(k)].tie_elongation;
            return sum;
        };
        const double length = own_length();
        for (const double mmHg : {8.0, 30.0, 60.0, 15.0}) {
            REQUIRE(scene.closure.fill(mpa_from_mmhg(mmHg)));
            const std::vector<double> spans = scene.spans();
            for (std::size_t k = 0; k < run.count; ++k) {
                const double before = spans[(k + run.count - 1) % run.count], behind = spans[k];
                const double most = std::exp(friction * scene.system.turning(run, k));
                CAPTURE(friction, mmHg, k, before, behind, most);
                CHECK(behind <= 1.002 * most * before + 1e-6);
                CHECK(before <= 1.002 * most * behind + 1e-6);
            }
            CHECK_THAT(own_length(), WithinAbs(length, 1e-9));
        }
    }
}

TEST_CASE("run: drawn at its ends alone it is tight at the knot and loose across; worked round it is not",
          "[closure]") {
    RunScene drawn(model(), {}, {{scenes::equal_run(16), 0.03}});
    REQUIRE(drawn.tie(15e-3, 0.0));
    REQUIRE(drawn.closure.fill(kPressure));
    const std::vector<double> spans = drawn.spans();
    for (std::size_t k = 0; k + 1 < 8; ++k) CHECK(spans[k] > spans[k + 1]);  // from the knot's span (the last) onward
    CHECK(spans[15] > 2.0 * spans[7]);
    RunScene worked(model(), {}, {{scenes::equal_run(16), 0.03}});
    REQUIRE(worked.tie(15e-3));
    REQUIRE(worked.closure.fill(kPressure));
    CHECK(spread(worked.spans()) < 0.3 * spread(spans));
    CHECK(power_of(worked).cylinder() < power_of(drawn).cylinder());
}

TEST_CASE("run: a tighter knot steepens its own meridian", "[closure]") {
    // Direction of the published adjustment, Eye 1993 (figures T3-16): tighten in the flat meridian.
    RunScene scene(model(), {}, {{scenes::equal_run(16), 0.1}});
    REQUIRE(scene.tie(25e-3, 12e-3));
    REQUIRE(scene.closure.fill(kPressure));
    const SagittaPower power = power_of(scene);
    CHECK(power.cylinder() > 0.5);
    // The knot lies between the last bite (67.5°) and the first (90°).
    CHECK(std::abs(std::remainder(power.steep_axis_deg() - 78.75, 180.0)) < 20.0);
}

TEST_CASE("run: a continuous thread spreads its tension more evenly than single bites", "[closure]") {
    // Benjamin, Ophthalmic Microsurgical Suturing Techniques, ch. 6 (figures T4-12). The same uneven bites, eight
    // hands.
    int more_even = 0;
    for (unsigned seed = 0; seed < 8; ++seed) {
        const std::vector<BiteGeometry> bites = uneven_run(16, 40 + seed);
        RunScene run(model(), {}, {{bites, 0.1}});
        REQUIRE(run.tie(7e-3, 12e-3));
        REQUIRE(run.closure.fill(mpa_from_mmhg(30.0)));
        scenes::Scene singles(model(), bites);
        REQUIRE(singles.tie(7e-3));
        REQUIRE(singles.closure.fill(mpa_from_mmhg(30.0)));
        const Eigen::VectorXd& single = singles.closure.state().tension;
        more_even += spread(run.spans()) < single.maxCoeff() - single.minCoeff() ? 1 : 0;
    }
    CHECK(more_even >= 7);
}

TEST_CASE("run: the interactive solver and the dense one find the same balance", "[closure][reference][slow]") {
    std::mt19937_64 engine(99);
    std::uniform_real_distribution<double> uniform(0.0, 1.0);
    for (unsigned trial = 0; trial < 12; ++trial) {
        const int count = 5 + static_cast<int>(9.99 * uniform(engine));
        const double friction = trial % 3 == 0 ? 0.0 : 0.3 * uniform(engine);
        std::vector<BiteGeometry> singles;
        if (trial % 2 == 1) singles = scenes::equal_bites(4, 80.0);
        const std::vector<scenes::RunOfBites> runs = {{uneven_run(count, trial), friction}};
        RunScene quick(model(), singles, runs), dense(model(), singles, runs, scenes::SolverKind::dense);
        const double tension = 5e-3 + 15e-3 * uniform(engine), worked = trial % 4 == 0 ? 0.0 : tension;
        CAPTURE(trial, count, friction);
        REQUIRE(quick.tie(tension, worked));
        REQUIRE(dense.tie(tension, worked));
        REQUIRE(quick.closure.fill(kPressure));
        REQUIRE(dense.closure.fill(kPressure));
        CHECK((quick.closure.state().tension - dense.closure.state().tension).cwiseAbs().maxCoeff() < 1e-7);
        const SagittaPower a = power_of(quick), b = power_of(dense);
        CHECK_THAT(a.M, WithinAbs(b.M, 1e-6));
        CHECK_THAT(a.J0, WithinAbs(b.J0, 1e-6));
        CHECK_THAT(a.J45, WithinAbs(b.J45, 1e-6));
    }
}

TEST_CASE("run: two of them, and single bites under them, are tied in order and each keeps its own", "[closure]") {
    RunScene scene(model(), scenes::equal_bites(4),
                   {{scenes::equal_run(8, 100.0), 0.0}, {scenes::equal_run(8, 122.5), 0.0}});
    REQUIRE(scene.tie(10e-3));
    REQUIRE(scene.closure.fill(kPressure));
    CHECK(spread(scene.spans(0)) < 1e-12);
    CHECK(spread(scene.spans(1)) < 1e-12);
    CHECK(scene.spans(0).front() < scene.spans(1).front());  // the later one slackens the earlier
}

TEST_CASE("run: temporary single bites leave it to carry the wound alone", "[closure]") {
    RunScene scene(model(), scenes::equal_bites(4), {{scenes::equal_run(16, 101.25), 0.1}});
    REQUIRE(scene.closure.tie(std::vector<KnotPlan>(4, KnotPlan{scenes::kTension, true, 0}), {RunPlan{12e-3, 20e-3}}));
    REQUIRE(scene.closure.fill(kPressure));
    for (Eigen::Index b = 0; b < 4; ++b) CHECK(scene.closure.state().tension[b] == 0.0);
    for (const double tension : scene.spans()) CHECK(tension > 5e-3);
    CHECK(scene.closure.foundation_share() < 0.02);
}
