#include "closure/ring_tangent.h"

#include <random>

#include <catch2/catch.hpp>

#include "balance.h"

using namespace graftwright;
using balance::Problem;

namespace {

RingMatrix any_ring(const Problem& problem, unsigned seed, double size) {
    std::mt19937_64 engine(seed);
    std::normal_distribution<double> normal;
    RingMatrix ring = problem.at_rest();
    for (double& value : ring.reshaped()) value = size * normal(engine);
    return ring;
}

void linearise_at(const Problem& problem, const RingMatrix& jump, RingTangent& tangent) {
    WoundInterface::Response contact;
    problem.scene.interface.respond(problem.jumps(jump), problem.fibres, true, contact);
    tangent.linearise(problem.reduced, problem.knots, problem.threads.respond(problem.reduced, problem.knots, jump),
                      contact);
}

RingMatrix balance_of(const Problem& problem) {
    NewtonSolver solver(problem.scene.system, problem.scene.interface);
    RingMatrix jump = problem.at_rest();
    REQUIRE(solver.minimise(problem.reduced, problem.knots, problem.fibres, jump).converged);
    return jump;
}

}  // namespace

// Fewer bites than seven: crossing strands one by one in the preconditioner; more: by their mean.
TEST_CASE("tangent: along the step it finds, the gradient changes by what was asked", "[closure][property]") {
    const int bites = GENERATE(4, 16);
    Problem problem(scenes::standard_model(), scenes::equal_bites(bites), 15.0);
    problem.complicate(balance_of(problem), 15.0);  // locked and slack threads, friction, fluid
    const RingMatrix jump = balance_of(problem), asked = any_ring(problem, 3, 1.0);
    RingTangent tangent(problem.scene.system, problem.scene.interface, problem.threads);
    linearise_at(problem, jump, tangent);
    RingMatrix step = problem.at_rest();
    const int products = tangent.solve(asked, 1e-9, step).iterations;
    CAPTURE(bites, products, step.norm());
    CHECK(products < 100);
    // So small a move that hardly a fibre changes hands.
    const double h = 1e-9 / step.cwiseAbs().maxCoeff();
    const RingMatrix change =
        (problem.gradient(jump + h * step).first - problem.gradient(jump - h * step).first) / (2.0 * h);
    CHECK((change + asked).norm() < 1e-5 * asked.norm());
}

// Tension at the cut edge tips a donor that no contact holds; with all fibres alike the preconditioner is the tangent
// itself, although without the bites it is not positive.
TEST_CASE("tangent: a loose donor that only its few bites hold takes one product", "[closure]") {
    for (const double opening : {-0.1, 0.3}) {  // pressed all round, open all round
        Problem problem(scenes::standard_model(), scenes::equal_bites(4), 15.0);
        RingMatrix jump = problem.at_rest();
        jump(0, 0) = scenes::kInterference + opening;
        RingTangent tangent(problem.scene.system, problem.scene.interface, problem.threads);
        linearise_at(problem, jump, tangent);
        RingMatrix step = problem.at_rest();
        CAPTURE(opening);
        CHECK(tangent.solve(any_ring(problem, 5, 1.0), 1e-8, step).iterations <= 2);
        CHECK(step.allFinite());
    }
}
