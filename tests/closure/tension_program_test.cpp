// The tensions of threads that slide, against the conditions that make them the answer (Karush, Kuhn, Tucker), which
// say so without knowing how it was found.
#include "closure/tension_program.h"

#include <cmath>
#include <random>

#include <catch2/catch.hpp>

using namespace graftwright;
using Catch::Matchers::WithinAbs;

namespace {

// A ring of n spans with random flexibility, demands and grips; some grips nought.
void fill_at_random(TensionProgram& program, int n, std::mt19937_64& engine) {
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> uniform(0.0, 1.0);
    program.resize(n, static_cast<std::size_t>(n));
    Eigen::MatrixXd factor(n, n);
    for (Eigen::Index i = 0; i < factor.size(); ++i) factor.data()[i] = normal(engine);
    program.flexibility = factor * factor.transpose() + 0.5 * Eigen::MatrixXd::Identity(n, n);
    for (int i = 0; i < n; ++i) program.asked[i] = 0.05 * (normal(engine) + 0.7);
    for (int k = 0; k < n; ++k) {
        const double grip = uniform(engine) < 0.25 ? 0.0 : 0.02 * uniform(engine);
        program.bites[static_cast<std::size_t>(k)] = {(k + n - 1) % n, k, grip};
    }
}

}  // namespace

TEST_CASE("tension program: the answer meets the conditions of the maximum, 2,000 random rings",
          "[closure][property]") {
    std::mt19937_64 engine(20261129);
    TensionProgram program;
    int slack = 0, sliding = 0, sticking = 0;
    for (int trial = 0; trial < 2000; ++trial) {
        const int n = 2 + trial % 23;
        fill_at_random(program, n, engine);
        program.solve();
        const Eigen::VectorXd& T = program.tension();
        // Stationary: r − A T = Σ slid (e_to − e_from) − (what a slack one is pushed with, ≥ 0).
        Eigen::VectorXd left = program.asked - program.flexibility * T;
        const double scale = program.asked.norm();
        for (std::size_t b = 0; b < program.bites.size(); ++b) {
            const auto& bite = program.bites[b];
            left[bite.to] -= program.slid(b);
            left[bite.from] += program.slid(b);
            const double step = T[bite.to] - T[bite.from];
            CAPTURE(trial, n, b, step, bite.grip, program.slid(b));
            CHECK(std::abs(step) <= bite.grip + 1e-12);
            if (!program.slides(b)) {
                CHECK(program.slid(b) == 0.0);
                ++sticking;
                continue;
            }
            ++sliding;
            // Thread slides toward the tighter side, and only at the full grip.
            CHECK(std::abs(step) >= bite.grip - 1e-11);
            if (bite.grip > 1e-9 && std::abs(program.slid(b)) > 1e-9) CHECK(program.slid(b) * step > 0.0);
        }
        for (int i = 0; i < n; ++i) {
            CAPTURE(trial, i, T[i], left[i]);
            CHECK(T[i] >= 0.0);
            if (program.slack(i)) {
                ++slack;
                CHECK(left[i] <= 1e-11 * scale);
            } else {
                CHECK_THAT(left[i], WithinAbs(0.0, 1e-11 * scale));
            }
        }
    }
    CHECK(slack > 500);
    CHECK(sliding > 500);
    CHECK(sticking > 500);
}

TEST_CASE("tension program: without grip all spans share one tension, with plenty each has its own", "[closure]") {
    std::mt19937_64 engine(3);
    TensionProgram program;
    fill_at_random(program, 6, engine);
    program.asked = (program.asked.array().abs() + 0.01).matrix();
    program.flexibility = Eigen::MatrixXd::Identity(6, 6);
    for (auto& bite : program.bites) bite.grip = 0.0;
    program.solve();
    for (int i = 0; i < 6; ++i) CHECK_THAT(program.tension()[i], WithinAbs(program.asked.mean(), 1e-14));
    for (auto& bite : program.bites) bite.grip = 1.0;
    program.solve();
    CHECK((program.tension() - program.asked).norm() < 1e-14);
}
