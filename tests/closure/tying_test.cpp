#include "closure/tying.h"

#include <cmath>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "../scenes/closure_scenes.h"
#include "drawn_bites.h"

using namespace graftwright;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

std::vector<KnotPlan> plan_of(std::size_t bites, double tension = scenes::kTension) {
    return std::vector<KnotPlan>(bites, KnotPlan{tension, false});
}

// Fills in steps of 5 mmHg.
bool fill(scenes::Scene& scene, double mmHg) {
    for (double next = 5.0; next < mmHg; next += 5.0) {
        if (!scene.closure.fill(mpa_from_mmhg(next))) return false;
    }
    return scene.closure.fill(mpa_from_mmhg(mmHg));
}

}  // namespace

TEST_CASE("tying: the last knot has the tension it was drawn to, and later knots slacken their neighbours",
          "[closure]") {
    scenes::Scene scene(scenes::standard_model(), scenes::equal_bites(16));
    REQUIRE(scene.tie());
    const ClosureState& state = scene.closure.state();
    CHECK_THAT(state.tension[15], WithinRel(scenes::kTension, 1e-6));
    CHECK(state.pressure == kTyingPressure);
    for (const Knot& knot : state.knots) CHECK(knot.hold == Hold::locked);
    // The first eight, between which the others came, lose some (the design's reference calculation: about a sixth);
    // the last eight have no later neighbour, and knots farther away give them 1 or 2 %.
    const Eigen::VectorXd first = state.tension.head(8) / scenes::kTension,
                          last = state.tension.tail(8) / scenes::kTension;
    CAPTURE(first.transpose(), last.transpose());
    CHECK(first.maxCoeff() < 0.98);
    CHECK(first.mean() < 0.95);
    CHECK(first.mean() > 0.75);
    CHECK(last.minCoeff() > 0.98);
    CHECK(last.maxCoeff() < 1.03);
}

TEST_CASE("tying: filling the chamber tightens every locked thread, the more the higher the pressure", "[closure]") {
    scenes::Scene scene(scenes::standard_model(), scenes::equal_bites(16));
    REQUIRE(scene.tie());
    Eigen::VectorXd last = scene.closure.state().tension;
    for (double mmHg : {15.0, 30.0, 45.0, 60.0}) {
        REQUIRE(fill(scene, mmHg));
        const Eigen::VectorXd& now = scene.closure.state().tension;
        CAPTURE(mmHg, now.transpose());
        CHECK((now - last).minCoeff() > 0.0);
        last = now;
    }
    // 16 bites at 60 mmHg: from about 12 to about 25 mN (the design's reference calculation).
    CHECK(last.mean() > 20e-3);
    CHECK(last.mean() < 30e-3);
}

TEST_CASE("tying: fewer than three bites hold no filled chamber, and the reason says so", "[closure]") {
    for (int bites : {1, 2}) {
        scenes::Scene scene(scenes::standard_model(), scenes::equal_bites(bites));
        CHECK_FALSE(scene.tie());
        CHECK_FALSE(scene.closure.status().converged);
        CHECK_THAT(scene.closure.status().reason, Contains("fewer than three bites"));
    }
    // Nor do four of which two are cut out.
    scenes::Scene scene(scenes::standard_model(), scenes::equal_bites(4));
    std::vector<KnotPlan> plan = plan_of(4);
    plan[1].removed = plan[2].removed = true;
    CHECK_FALSE(scene.closure.tie(plan));
    CHECK_THAT(scene.closure.status().reason, Contains("fewer than three bites"));
}

TEST_CASE("tying: a course cuts out when it was done, ties runs last, and ends with what held the donor meanwhile",
          "[closure]") {
    std::vector<KnotPlan> plan = plan_of(5);
    plan[0].removed = plan[1].removed = plan[2].removed = true;
    plan[0].removed_after = plan[2].removed_after = 4;  // plan[1]: at the end
    const std::vector<CourseStep> course = closure_course(plan, {RunPlan{}, RunPlan{}});
    std::string told;
    for (const CourseStep& step : course) {
        if (const auto* bite = std::get_if<TieBite>(&step)) told += "b" + std::to_string(bite->bite);
        if (const auto* run = std::get_if<TieRun>(&step)) told += "r" + std::to_string(run->run);
        if (const auto* cut = std::get_if<CutOut>(&step))
            for (const std::size_t bite : cut->bites) told += "-" + std::to_string(bite);
        if (const auto* end = std::get_if<Finish>(&step))
            for (const std::size_t bite : end->cut_out) told += ".-" + std::to_string(bite);
    }
    CHECK(told == "b0b1b2b3-0-2b4r0r1.-1");
}

TEST_CASE("tying: a course taken in two parts is the whole one, to the last bit", "[closure]") {
    scenes::Scene whole(scenes::standard_model(), scenes::equal_bites(6)),
        first(scenes::standard_model(), scenes::equal_bites(6)), rest(scenes::standard_model(), scenes::equal_bites(6));
    std::vector<KnotPlan> plan = plan_of(6);
    plan[1].removed = true;
    plan[1].removed_after = 4;
    REQUIRE(whole.closure.tie(plan));
    const std::vector<CourseStep> course = closure_course(plan);
    const auto part = course.begin() + 5;  // four tied, one cut out
    for (auto step = course.begin(); step != part; ++step) REQUIRE(first.closure.take(*step));
    rest.closure.take_over(first.closure.state());
    for (auto step = part; step != course.end(); ++step) REQUIRE(rest.closure.take(*step));
    CHECK(rest.closure.state().edges == whole.closure.state().edges);
    CHECK(rest.closure.state().tension == whole.closure.state().tension);
}

TEST_CASE("tying: a bite cut out pulls no more and its neighbours take over", "[closure]") {
    scenes::Scene whole(scenes::standard_model(), scenes::equal_bites(8)),
        cut(scenes::standard_model(), scenes::equal_bites(8));
    std::vector<KnotPlan> plan = plan_of(8);
    REQUIRE(whole.closure.tie(plan));
    plan[4].removed = true;  // at 135°, between 90° and 180° (bites 0 and 2)
    REQUIRE(cut.closure.tie(plan));
    REQUIRE(fill(whole, 15.0));
    REQUIRE(fill(cut, 15.0));
    const Eigen::VectorXd &before = whole.closure.state().tension, &after = cut.closure.state().tension;
    CHECK(cut.closure.state().knots[4].hold == Hold::open);
    CHECK(after[4] == 0.0);
    CHECK(after[0] > 1.05 * before[0]);
    CHECK(after[2] > 1.05 * before[2]);
}

TEST_CASE("tying: prescribed tensions are kept and every fibre that presses is held from the start", "[closure]") {
    scenes::Scene scene(scenes::standard_model(), scenes::equal_bites(8));
    std::vector<double> tensions(8, 20e-3);
    tensions[3] = 10e-3;
    REQUIRE(scene.closure.prescribe(tensions, mpa_from_mmhg(15.0)));
    for (Eigen::Index b = 0; b < 8; ++b)
        CHECK(scene.closure.state().tension[b] == tensions[static_cast<std::size_t>(b)]);
    const ClosureState& state = scene.closure.state();
    const PointJumps jumps = scene.jumps();
    for (int j = 0; j < scene.interface.points(); ++j) {
        for (int k = 0; k < kFibres; ++k) {
            CHECK(state.fibres.held(k, j) == (scene.interface.solid_pressure(jumps, j, k) > 0.0));
        }
    }
    CHECK(state.fibres.anchor_v.abs().maxCoeff() == 0.0);
    CHECK(state.fibres.fluid.abs().maxCoeff() == 0.0);
}

TEST_CASE("tying: the foundation carries nothing once four bites hold the donor", "[closure]") {
    // It is a numerical aid, a hundred-thousandth of the host's stiffness: its force over the chamber's thrust.
    for (int bites : {4, 8, 16}) {
        scenes::Scene scene(scenes::standard_model(), scenes::equal_bites(bites));
        REQUIRE(scene.tie());
        CAPTURE(bites, scene.closure.foundation_share());
        CHECK(scene.closure.foundation_share() < 1e-3);
        REQUIRE(fill(scene, 15.0));
        CHECK(scene.closure.foundation_share() < 1e-3);
    }
}

TEST_CASE("tying: restored to a state, a closure goes on from there bit for bit", "[closure][property]") {
    scenes::Scene scene(scenes::standard_model(), scenes::equal_bites(8));
    REQUIRE(scene.tie());
    const ClosureState tied = scene.closure.state();
    REQUIRE(fill(scene, 20.0));
    const ClosureState filled = scene.closure.state();
    REQUIRE(fill(scene, 40.0));
    scene.closure.restore(tied);
    REQUIRE(fill(scene, 20.0));
    CHECK(scene.closure.state().edges == filled.edges);
    CHECK(scene.closure.state().tension == filled.tension);
    CHECK((scene.closure.state().fibres.bound == filled.fibres.bound).all());

    scenes::Scene again(scenes::standard_model(), scenes::equal_bites(8));
    REQUIRE(again.tie());
    CHECK(again.closure.state().edges == tied.edges);
}

TEST_CASE("tying: the two solvers tie and fill to one and the same closure", "[closure]") {
    scenes::SceneOptions plain;
    plain.solver = scenes::SolverKind::dense;
    for (int bites : {4, 8}) {
        scenes::Scene quick(scenes::standard_model(), scenes::equal_bites(bites));
        scenes::Scene reference(scenes::standard_model(), scenes::equal_bites(bites), plain);
        for (scenes::Scene* scene : {&quick, &reference}) {
            REQUIRE(scene->tie());
            REQUIRE(fill(*scene, 15.0));
        }
        const ClosureState &a = quick.closure.state(), &b = reference.closure.state();
        CAPTURE(bites, (a.edges - b.edges).norm() / b.edges.norm());
        // Each of some fifty solves ends within 1e-10 of its loads; sliding fibres keep what they met on the way.
        CHECK((a.edges - b.edges).norm() < 1e-5 * b.edges.norm());
        CHECK((a.tension - b.tension).norm() < 1e-5 * b.tension.norm());
        CHECK_THAT(sagitta_power(quick).cylinder(), WithinAbs(sagitta_power(reference).cylinder(), 1e-3));
    }
}

TEST_CASE("tying: bites that cannot hold the chamber end with a named status and no number that is not one",
          "[closure]") {
    // Four threads of 1 mN against the thrust of 60 mmHg.
    scenes::Scene scene(scenes::standard_model(), scenes::equal_bites(4));
    CHECK_FALSE(scene.closure.prescribe(std::vector<double>(4, 1e-3), mpa_from_mmhg(60.0)));
    CHECK_FALSE(scene.closure.status().converged);
    CHECK_THAT(scene.closure.status().reason, Contains("no balance") && Contains("60 mmHg"));
    CHECK(std::isfinite(scene.closure.status().residual));
}

TEST_CASE("tying: a practised hand's closures tie and fill, whatever the order and the errors",
          "[closure][property][slow]") {
    const WoundModel& model = scenes::standard_model();
    CHECK(rc::check("4 to 16 bites near even slots, tied and filled to 15 mmHg", [&] {
        const int count = static_cast<int>(drawn::between(4.0, 17.0));
        std::vector<BiteGeometry> bites;
        std::vector<KnotPlan> plan;
        const double first = drawn::between(0.0, 360.0);
        for (int b = 0; b < count; ++b) {
            // Every slot once, in an order that leaps about: 5, 7 or 11 slots on.
            const int leap = count % 5 != 0 ? 5 : (count % 7 != 0 ? 7 : 11);
            bites.push_back(drawn::practised_bite(model, first + 360.0 * ((b * leap) % count) / count));
            plan.push_back({drawn::between(8e-3, 30e-3), false});
        }
        scenes::Scene scene(model, bites);
        const bool tied = scene.closure.tie(plan);
        const bool filled = tied && fill(scene, 15.0);
        const ClosureStatus& status = scene.closure.status();
        RC_ASSERT(filled == status.converged);
        RC_ASSERT(filled || !status.reason.empty());
        RC_ASSERT(filled);
        RC_ASSERT(status.residual <= kGoodEnoughResidual);
        RC_ASSERT(scene.closure.state().tension.minCoeff() >= 0.0);
        RC_ASSERT(scene.closure.foundation_share() < 1e-3);
    }));
}

TEST_CASE("tying: a bite drawn anew keeps the tension it was drawn to and slackens its neighbours", "[closure]") {
    scenes::Scene scene(scenes::standard_model(), scenes::equal_bites(16));
    REQUIRE(scene.tie());
    REQUIRE(fill(scene, 15.0));
    const Eigen::VectorXd before = scene.closure.state().tension;
    REQUIRE(scene.closure.redraw(0, 1.2 * before[0]));
    const Eigen::VectorXd tighter = scene.closure.state().tension;
    CHECK_THAT(tighter[0], WithinRel(1.2 * before[0], 1e-6));
    CHECK(scene.closure.state().knots[0].hold == Hold::locked);
    // Equal bites in tying order: 8 and 15 or so lie beside the first; whichever they are, the sum of the others falls.
    CHECK(tighter.tail(15).sum() < before.tail(15).sum());
    // Back again: friction keeps a trace of the way, no more than a few per cent of the change.
    REQUIRE(scene.closure.redraw(0, before[0]));
    CHECK((scene.closure.state().tension - before).cwiseAbs().maxCoeff() <
          0.1 * (tighter - before).cwiseAbs().maxCoeff());
}

TEST_CASE("tying: a donor that its bites cannot hold in its bed is found hanging out of it, in few steps",
          "[closure]") {
    // Three weak bites side by side: under pressure the donor tips out, until it hangs by its locked threads.
    std::vector<BiteGeometry> bites = {scenes::bite_at(0.0), scenes::bite_at(15.0), scenes::bite_at(30.0)};
    scenes::Scene scene(scenes::standard_model(), bites);
    REQUIRE(scene.closure.tie(plan_of(3, 0.5e-3)));
    REQUIRE(fill(scene, 60.0));
    const Closure& closure = scene.closure;
    CAPTURE(closure.status().most_iterations, closure.foundation_share());
    CHECK(closure.status().most_iterations < 60);
    CHECK(closure.state().edges.allFinite());
    // No wound any more: edges farther apart than the donor is wide. The threads bear it, not the faint foundation.
    CHECK(closure.state().edges.cwiseAbs().maxCoeff() > 2.0 * scenes::standard_eye().wound_radius);
    CHECK(closure.foundation_share() < 0.01);
}
