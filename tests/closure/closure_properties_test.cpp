// What no closure may depend on: where 0° is, which hand is right, how the donor's frame is marked, in which units
// the moduli come, how many harmonics there are.
#include <cmath>
#include <vector>

#include <catch2/catch.hpp>

#include "../scenes/closure_scenes.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// Eight uneven bites in a hand's order and their tensions: some cylinder, no symmetry.
std::vector<BiteGeometry> uneven_bites(double turn_deg = 0.0) {
    std::vector<BiteGeometry> bites = scenes::equal_bites(8, 90.0 + turn_deg);
    for (std::size_t b = 0; b < bites.size(); ++b) {
        const auto i = static_cast<double>(b);
        bites[b].donor_theta += rad_from_deg(1.5 * std::sin(i));
        bites[b].host_theta += rad_from_deg(2.0 * std::cos(2.0 * i));
        bites[b].donor_length += 0.1 * std::sin(3.0 * i);
        bites[b].host_depth -= 0.05 * (1.0 + std::sin(5.0 * i));
        bites[b].host_skew = 0.15 * std::sin(4.0 * i);
    }
    return bites;
}

std::vector<KnotPlan> uneven_plan() {
    std::vector<KnotPlan> plan;
    for (int b = 0; b < 8; ++b) plan.push_back({(15.0 + 4.0 * std::sin(1.0 + 3.0 * b)) * 1e-3, false});
    return plan;
}

struct Outcome {
    PointJumps jumps;
    Eigen::VectorXd tension;
    scenes::SagittaPower power;
};

Outcome outcome_of(scenes::Scene& scene) {
    REQUIRE(scene.closure.tie(uneven_plan()));
    for (double mmHg : {8.0, 15.0}) REQUIRE(scene.closure.fill(mpa_from_mmhg(mmHg)));
    return {scene.jumps(), scene.closure.state().tension, sagitta_power(scene)};
}

Outcome outcome_of(const WoundModel& model, std::vector<BiteGeometry> bites) {
    scenes::Scene scene(model, std::move(bites));
    return outcome_of(scene);
}

// Fifty solves, each to 1e-10 of its loads, and fibres that slide and keep what they met on the way.
constexpr double kSame = 1e-5;
constexpr double kSameDioptres = 1e-3;

}  // namespace

TEST_CASE("closure: turning every bite turns the axis and changes nothing else", "[closure][property]") {
    const WoundModel& model = scenes::standard_model();
    const Outcome at_rest = outcome_of(model, uneven_bites());
    CHECK(at_rest.power.cylinder() > 0.5);
    constexpr int points = 13;  // of 128
    const double turn = 360.0 * points / 128.0;
    const Outcome turned = outcome_of(model, uneven_bites(turn));
    CHECK((turned.tension - at_rest.tension).norm() < kSame * at_rest.tension.norm());
    double worst = 0.0;
    for (int j = 0; j < 128; ++j) {
        worst = std::max(worst, (turned.jumps.col((j + points) % 128) - at_rest.jumps.col(j)).cwiseAbs().maxCoeff());
    }
    CAPTURE(worst);
    CHECK(worst < 1e-6);  // a nanometre
    CHECK_THAT(turned.power.M, WithinAbs(at_rest.power.M, kSameDioptres));
    CHECK_THAT(turned.power.cylinder(), WithinAbs(at_rest.power.cylinder(), kSameDioptres));
    CHECK_THAT(std::remainder(turned.power.steep_axis_deg() - at_rest.power.steep_axis_deg() - turn, 180.0),
               WithinAbs(0.0, 0.02));
}

TEST_CASE("closure: between its points the wound sees a turn by any angle as the same turn", "[closure][property]") {
    // Contact and seal are asked at 128 points, 0.19 mm apart, a little more than a thread's spread: where edges of
    // contact fall between them is all that a turn by half a point can change.
    const WoundModel& model = scenes::standard_model();
    const Outcome at_rest = outcome_of(model, uneven_bites());
    for (double turn : {1.40625, 47.3}) {
        const Outcome turned = outcome_of(model, uneven_bites(turn));
        CAPTURE(turn, turned.power.cylinder(), at_rest.power.cylinder(), turned.power.M, at_rest.power.M);
        CHECK((turned.tension - at_rest.tension).norm() < 0.002 * at_rest.tension.norm());
        CHECK_THAT(turned.power.M, WithinAbs(at_rest.power.M, 0.02));
        CHECK_THAT(turned.power.cylinder(), WithinAbs(at_rest.power.cylinder(), 0.02));
        CHECK_THAT(std::remainder(turned.power.steep_axis_deg() - at_rest.power.steep_axis_deg() - turn, 180.0),
                   WithinAbs(0.0, 0.5));
    }
}

TEST_CASE("closure: a left eye is a right eye in the mirror", "[closure][property]") {
    const WoundModel& model = scenes::standard_model();
    std::vector<BiteGeometry> mirrored = uneven_bites();
    for (BiteGeometry& bite : mirrored) {
        bite.donor_theta = -bite.donor_theta;
        bite.host_theta = -bite.host_theta;
        bite.donor_skew = -bite.donor_skew;
        bite.host_skew = -bite.host_skew;
    }
    const Outcome right = outcome_of(model, uneven_bites()), left = outcome_of(model, mirrored);
    CHECK((left.tension - right.tension).norm() < kSame * right.tension.norm());
    double worst = 0.0;
    for (int j = 0; j < 128; ++j) {
        Eigen::Vector4d there = left.jumps.col((128 - j) % 128);
        there[1] = -there[1];  // sideways
        worst = std::max(worst, (there - right.jumps.col(j)).cwiseAbs().maxCoeff());
    }
    CAPTURE(worst);
    CHECK(worst < 1e-6);
    CHECK_THAT(left.power.M, WithinAbs(right.power.M, kSameDioptres));
    CHECK_THAT(left.power.J0, WithinAbs(right.power.J0, kSameDioptres));
    CHECK_THAT(left.power.J45, WithinAbs(-right.power.J45, kSameDioptres));
}

TEST_CASE("closure: a donor marked elsewhere and laid in turned by as much is the same donor", "[closure][property]") {
    // graft_deg is in the donor's own frame; what counts is where the bite lies in the eye.
    const WoundModel& model = scenes::standard_model();
    const auto closure_marked = [&](double mark_deg) {
        std::vector<BiteGeometry> bites;
        for (const BiteGeometry& bite : uneven_bites()) {
            BitePath path;
            path.graft_deg = deg_from_rad(bite.donor_theta) - mark_deg;
            path.host_deg = deg_from_rad(bite.host_theta);
            bites.push_back(bite_geometry(path, rad_from_deg(mark_deg)));
        }
        return outcome_of(model, bites);
    };
    const Outcome plain = closure_marked(0.0), marked = closure_marked(37.0);
    CHECK((marked.tension - plain.tension).norm() < kSame * plain.tension.norm());
    CHECK((marked.jumps - plain.jumps).cwiseAbs().maxCoeff() < 1e-6);
}

TEST_CASE("closure: twice the stiffness, tension and pressure is the same shape", "[closure][property]") {
    // Donor, rim, sclera, k_c, k_t, tensions and chamber all doubled. With prescribed tensions, since the pressure at
    // which a hand ties is a constant of its own.
    std::vector<double> tensions;
    for (const KnotPlan& knot : uneven_plan()) tensions.push_back(knot.tension);
    const auto solved = [&](double factor) {
        EyeShape shape = scenes::standard_eye();
        shape.donor_modulus *= factor;
        shape.rim_modulus *= factor;
        shape.sclera_modulus *= factor;
        WoundModelOptions options = scenes::with_harmonics(scenes::kQuickHarmonics);
        options.levels_mmHg = {15.0 * factor};
        const WoundModel model(shape, options);
        scenes::SceneOptions scene_options;
        scene_options.constants.k_c *= factor;
        scene_options.constants.k_t *= factor;
        scene_options.thread_EA *= factor;
        scenes::Scene scene(model, uneven_bites(), scene_options);
        std::vector<double> scaled = tensions;
        for (double& tension : scaled) tension *= factor;
        REQUIRE(scene.closure.prescribe(scaled, mpa_from_mmhg(15.0 * factor)));
        return Outcome{scene.jumps(), scene.closure.state().tension, sagitta_power(scene)};
    };
    const Outcome once = solved(1.0), twice = solved(2.0);
    CHECK((twice.jumps - once.jumps).cwiseAbs().maxCoeff() < 1e-8);
    CHECK((twice.tension - 2.0 * once.tension).norm() < 1e-15);
    CHECK_THAT(twice.power.M, WithinAbs(once.power.M, 1e-5));
    CHECK_THAT(twice.power.cylinder(), WithinAbs(once.power.cylinder(), 1e-5));
}

TEST_CASE("closure: twice as many harmonics move the cylinder by less than a hundredth", "[closure][property]") {
    const Outcome coarse = outcome_of(scenes::standard_model(48), uneven_bites());
    const Outcome fine = outcome_of(scenes::standard_model(96), uneven_bites());
    CAPTURE(coarse.power.M, fine.power.M, coarse.power.cylinder(), fine.power.cylinder());
    CHECK_THAT(coarse.power.cylinder(), WithinRel(fine.power.cylinder(), 0.01));
    CHECK_THAT(coarse.power.M, WithinAbs(fine.power.M, 0.02));
    CHECK((coarse.tension - fine.tension).norm() < 0.003 * fine.tension.norm());
}
