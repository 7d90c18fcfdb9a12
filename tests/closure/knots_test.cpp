#include "closure/knots.h"

#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include <Eigen/Cholesky>
#include <catch2/catch.hpp>

#include "../scenes/closure_scenes.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double kTinyMove = 1e-6;  // step of the finite differences, mm

struct Loops {
    scenes::Scene scene;
    Threads threads;
    ReducedSystem reduced;

    explicit Loops(std::vector<BiteGeometry> bites, double mmHg = 15.0)
        : scene(scenes::standard_model(), std::move(bites)),
          threads(scene.system, scene.interface),
          reduced(scene.system.at(mpa_from_mmhg(mmHg))) {}
    [[nodiscard]] double stiffness(std::size_t bite) const {
        return scenes::kThreadEA / scene.system.threads()[bite]->path.length;
    }
    [[nodiscard]] RingMatrix at_rest() const {
        return RingMatrix::Zero(kRingUnknowns, 2 * scenes::standard_model().columns());
    }
    // A closed wound with steps and slips of some hundredths of a millimetre.
    [[nodiscard]] RingMatrix any_edges(unsigned seed) const {
        std::mt19937_64 engine(seed);
        std::normal_distribution<double> normal;
        RingMatrix jump = at_rest();
        for (Eigen::Index c = 0; c < jump.cols(); ++c) {
            for (Eigen::Index r = 0; r < jump.rows(); ++r)
                jump(r, c) = 0.02 * normal(engine) / (1.0 + static_cast<double>(c));
        }
        jump(0, 0) += 0.1;
        return jump;
    }
};

// Bites with a step and a slip of their own.
std::vector<BiteGeometry> uneven_bites(int count) {
    std::vector<BiteGeometry> bites = scenes::equal_bites(count);
    for (std::size_t b = 0; b < bites.size(); ++b) {
        const auto i = static_cast<double>(b);
        bites[b].host_depth -= 0.03 * i;
        bites[b].donor_theta += 0.01 * (i - 2.0);
        bites[b].host_skew = 0.1 * (i - 1.0);
    }
    return bites;
}

// Drawn, locked (some slack) and open threads side by side.
std::vector<Knot> mixed_knots(const Loops& loops, const RingMatrix& jump) {
    std::vector<Knot> knots(loops.threads.size());
    for (std::size_t b = 0; b < knots.size(); ++b) {
        knots[b].stiffness = loops.stiffness(b);
        knots[b].tie_tension = 5e-3 + 4e-3 * static_cast<double>(b);
    }
    const ThreadResponse free = loops.threads.respond(loops.reduced, knots, jump);
    for (std::size_t b = 0; b < knots.size(); ++b) {
        const double at_rest = free.elongation[static_cast<Eigen::Index>(b)];
        switch (b % 4) {
            case 0:
                knots[b].hold = Hold::drawn;
                break;
            case 1:
                knots[b].hold = Hold::open;
                break;
            case 2:  // tied while shorter: pulls
                knots[b].hold = Hold::locked;
                knots[b].tie_elongation = at_rest - 0.02;
                break;
            default:  // tied while far longer: slack
                knots[b].hold = Hold::locked;
                knots[b].tie_elongation = at_rest + 0.3;
                break;
        }
    }
    return knots;
}

}  // namespace

TEST_CASE("thread: a drawn thread keeps its tension and an open one has none", "[closure]") {
    const Loops loops(uneven_bites(4));
    std::vector<Knot> knots(4);
    knots[1] = {Hold::drawn, 12e-3, 0.0, loops.stiffness(1)};
    for (unsigned seed : {1u, 2u}) {
        const ThreadResponse response = loops.threads.respond(loops.reduced, knots, loops.any_edges(seed));
        CHECK(response.tension[1] == 12e-3);
        CHECK(response.tension[0] == 0.0);
        CHECK(response.tension[2] + response.tension[3] == 0.0);
    }
}

TEST_CASE("thread: a loop tied and left alone keeps the tension it was tied with", "[closure]") {
    const Loops loops(uneven_bites(4));
    const RingMatrix jump = loops.any_edges(3);
    std::vector<Knot> knots(4);
    for (std::size_t b = 0; b < 4; ++b)
        knots[b] = {Hold::drawn, 10e-3 + 1e-3 * static_cast<double>(b), 0.0, loops.stiffness(b)};
    const ThreadResponse drawn = loops.threads.respond(loops.reduced, knots, jump);
    for (std::size_t b = 0; b < 4; ++b) {
        knots[b].hold = Hold::locked;
        knots[b].tie_elongation = drawn.elongation[static_cast<Eigen::Index>(b)];
    }
    const ThreadResponse locked = loops.threads.respond(loops.reduced, knots, jump);
    CHECK((locked.tension - drawn.tension).norm() < 1e-12);
    CHECK((locked.elongation - drawn.elongation).norm() < 1e-12);
}

TEST_CASE("thread: the energy's slope is tension times the slope of the elongation", "[closure][property]") {
    const Loops loops(uneven_bites(8));
    const RingMatrix jump = loops.any_edges(4);
    const std::vector<Knot> knots = mixed_knots(loops, jump);
    const ThreadResponse here = loops.threads.respond(loops.reduced, knots, jump);
    REQUIRE(here.tension[2] > 1e-3);  // a locked one pulls
    REQUIRE(here.tension[3] == 0.0);  // a locked one is slack
    RingMatrix gradient = loops.at_rest();
    for (std::size_t b = 0; b < knots.size(); ++b) {
        gradient +=
            here.tension[static_cast<Eigen::Index>(b)] * loops.threads.elongation_gradient(loops.reduced, here, b);
    }
    for (Eigen::Index c = 0; c < jump.cols(); c += 3) {
        for (Eigen::Index r = 0; r < kRingUnknowns; ++r) {
            RingMatrix up = jump, down = jump;
            up(r, c) += kTinyMove;
            down(r, c) -= kTinyMove;
            const double slope = (loops.threads.respond(loops.reduced, knots, up).energy -
                                  loops.threads.respond(loops.reduced, knots, down).energy) /
                                 (2.0 * kTinyMove);
            CAPTURE(r, c);
            // Energies of 1e-4 N·mm with rounding of 1e-20 over 1e-6 mm, curvature terms of 1e-12 · 1 N/mm³.
            CHECK_THAT(slope, WithinAbs(gradient(r, c), 1e-10));
        }
    }
}

TEST_CASE("thread: each thread's own elongation has the slope that is told", "[closure][property]") {
    // All open, so that no tension draws tissue in: the elongation of the jumps alone.
    const Loops loops(uneven_bites(4));
    const RingMatrix jump = loops.any_edges(5);
    const std::vector<Knot> knots(4);
    const ThreadResponse here = loops.threads.respond(loops.reduced, knots, jump);
    const RingMatrix along = loops.any_edges(6);
    for (std::size_t b = 0; b < 4; ++b) {
        const auto i = static_cast<Eigen::Index>(b);
        const double up = loops.threads.respond(loops.reduced, knots, jump + kTinyMove * along).elongation[i];
        const double down = loops.threads.respond(loops.reduced, knots, jump - kTinyMove * along).elongation[i];
        const double told = loops.threads.elongation_gradient(loops.reduced, here, b).cwiseProduct(along).sum();
        CHECK_THAT((up - down) / (2.0 * kTinyMove), WithinRel(told, 1e-6));
    }
}

TEST_CASE("thread: locked threads pull or are slack, never both and never push", "[closure][property]") {
    // What the small complementarity problem must satisfy, whatever the jumps:
    //   T ≥ 0,   T = T_tie + k (e − e_tie) where T > 0,   T_tie + k (e − e_tie) ≤ 0 where T = 0.
    const Loops loops(uneven_bites(8));
    std::mt19937_64 engine(20120217);
    std::uniform_real_distribution<double> uniform(-0.1, 0.3);
    int slack = 0, pulling = 0;
    for (unsigned seed = 0; seed < 40; ++seed) {
        const RingMatrix jump = loops.any_edges(seed);
        std::vector<Knot> knots(8);
        const ThreadResponse free = loops.threads.respond(loops.reduced, knots, jump);
        for (std::size_t b = 0; b < 8; ++b) {
            knots[b] = {Hold::locked, 12e-3, free.elongation[static_cast<Eigen::Index>(b)] + uniform(engine),
                        loops.stiffness(b)};
        }
        const ThreadResponse response = loops.threads.respond(loops.reduced, knots, jump);
        for (std::size_t b = 0; b < 8; ++b) {
            const auto i = static_cast<Eigen::Index>(b);
            const double law = 12e-3 + knots[b].stiffness * (response.elongation[i] - knots[b].tie_elongation);
            CAPTURE(seed, b, response.tension[i], law);
            CHECK(response.tension[i] >= 0.0);
            if (response.tension[i] > 0.0) {
                ++pulling;
                CHECK_THAT(law, WithinAbs(response.tension[i], 1e-12));
            } else {
                ++slack;
                CHECK(law <= 1e-12);
            }
        }
    }
    CAPTURE(slack, pulling);
    CHECK(slack > 20);
    CHECK(pulling > 20);
}

TEST_CASE("thread: threads' energy is convex along any line between two jumps", "[closure][property]") {
    const Loops loops(uneven_bites(8));
    const std::vector<Knot> knots = mixed_knots(loops, loops.any_edges(4));
    const auto energy = [&](const RingMatrix& jump) {
        return loops.threads.respond(loops.reduced, knots, jump).energy;
    };
    for (unsigned seed = 10; seed < 30; ++seed) {
        const RingMatrix a = loops.any_edges(seed), b = 2.0 * loops.any_edges(seed + 100);
        CAPTURE(seed);
        CHECK(energy(0.5 * (a + b)) <= 0.5 * (energy(a) + energy(b)) + 1e-15);
    }
}

TEST_CASE("thread: a stiffer thread answers a stretch with more tension, at most with a rigid one's", "[closure]") {
    // With tissue of compliance D behind a thread of stiffness k, closing the wound's way by x tightens by
    // x / (D + 1/k).
    const Loops loops({scenes::bite_at(0.0)});
    const double D = loops.reduced.loop_compliance(0, 0), x = 0.01;
    CHECK(D > 0.0);
    double last = 0.0;
    for (double factor : {0.5, 1.0, 2.0, 1e6}) {
        const double k = factor * loops.stiffness(0);
        std::vector<Knot> knots{{Hold::drawn, 15e-3, 0.0, k}};
        const RingMatrix jump = loops.at_rest();
        const double tied = loops.threads.respond(loops.reduced, knots, jump).elongation[0];
        knots[0].hold = Hold::locked;
        knots[0].tie_elongation = tied - x;  // as if the wound had opened by x along the thread
        const double gained = loops.threads.respond(loops.reduced, knots, jump).tension[0] - 15e-3;
        CHECK_THAT(gained, WithinRel(x / (D + 1.0 / k), 1e-9));
        CHECK(gained > last);
        last = gained;
    }
    CHECK_THAT(last, WithinRel(x / D, 1e-5));
}

TEST_CASE("thread: pulling one loop draws tissue in and shortens it and its neighbours by one table", "[closure]") {
    const Loops loops(uneven_bites(8));
    const Eigen::MatrixXd& D = loops.reduced.loop_compliance;
    CHECK((D - D.transpose()).norm() == 0.0);
    CHECK(D.llt().info() == Eigen::Success);
    std::vector<Knot> knots(8);
    const ThreadResponse before = loops.threads.respond(loops.reduced, knots, loops.at_rest());
    knots[2] = {Hold::drawn, 10e-3, 0.0, loops.stiffness(2)};
    const ThreadResponse after = loops.threads.respond(loops.reduced, knots, loops.at_rest());
    CHECK((after.elongation - before.elongation + 10e-3 * D.col(2)).norm() < 1e-12);
}
