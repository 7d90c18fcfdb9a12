// Where the hand waits for an answer, nothing is allocated: this program's own malloc counts.
//
// A sanitizer brings a malloc of its own, so there these cases are left out.
#include <catch2/catch.hpp>

#include "../scenes/closure_scenes.h"
#include "../scenes/running_scenes.h"
#include "balance.h"

#if !defined(__SANITIZE_ADDRESS__)

#include <cerrno>
#include <cstddef>

namespace {

// Allocations of this thread; Catch's own checks are kept outside what is counted.
thread_local long allocations = 0;

}  // namespace

extern "C" {

void* __libc_malloc(std::size_t size);
void* __libc_calloc(std::size_t count, std::size_t size);
void* __libc_realloc(void* block, std::size_t size);
void* __libc_memalign(std::size_t alignment, std::size_t size);

void* malloc(std::size_t size) {
    ++allocations;
    return __libc_malloc(size);
}
void* calloc(std::size_t count, std::size_t size) {
    ++allocations;
    return __libc_calloc(count, size);
}
void* realloc(void* block, std::size_t size) {
    ++allocations;
    return __libc_realloc(block, size);
}
void* aligned_alloc(std::size_t alignment, std::size_t size) {
    ++allocations;
    return __libc_memalign(alignment, size);
}
int posix_memalign(void** block, std::size_t alignment, std::size_t size) {
    *block = aligned_alloc(alignment, size);
    return *block == nullptr ? ENOMEM : 0;
}
}

using namespace graftwright;

namespace {

template <typename Work>
long allocations_of(Work&& work) {
    const long before = allocations;
    work();
    return allocations - before;
}

}  // namespace

TEST_CASE("no allocation: the counter sees vectors and matrices", "[closure]") {
    CHECK(allocations_of([] { Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(30, 30); }) == 1);
    CHECK(allocations_of([] { std::vector<double> numbers(100, 1.0); }) == 1);
}

TEST_CASE("no allocation: a solver that has solved once solves again without", "[closure]") {
    const int count = GENERATE(4, 16);
    balance::Problem problem(scenes::standard_model(), scenes::equal_bites(count), 15.0);
    NewtonSolver solver(problem.scene.system, problem.scene.interface);
    RingMatrix jump = problem.at_rest();
    REQUIRE(solver.minimise(problem.reduced, problem.knots, problem.fibres, jump).converged);
    problem.complicate(jump, 15.0);  // locked and slack threads, friction, fluid
    SolveSummary summary;
    CHECK(allocations_of([&] { summary = solver.minimise(problem.reduced, problem.knots, problem.fibres, jump); }) ==
          0);
    CHECK(summary.converged);
    CHECK(summary.iterations > 2);
}

TEST_CASE("no allocation: a bite drawn anew, as while the hand moves", "[closure]") {
    scenes::Scene scene(scenes::standard_model(), scenes::equal_bites(8));
    REQUIRE(scene.tie());
    REQUIRE(scene.closure.fill(mpa_from_mmhg(8.0)));
    REQUIRE(scene.closure.redraw(3, 16e-3));
    bool balanced = false;
    CHECK(allocations_of([&] { balanced = scene.closure.redraw(5, 14e-3); }) == 0);
    CHECK(balanced);
}

TEST_CASE("no allocation: a running thread that slides, once it has been solved", "[closure]") {
    const double friction = GENERATE(0.0, 0.05);
    scenes::RunScene scene(scenes::standard_model(), scenes::equal_bites(4), {{scenes::equal_run(12, 97.0), friction}});
    REQUIRE(scene.tie(15e-3, 0.0));
    REQUIRE(scene.closure.fill(mpa_from_mmhg(8.0)));
    REQUIRE(scene.closure.redraw(1, 16e-3));
    bool balanced = false;
    CHECK(allocations_of([&] { balanced = scene.closure.redraw(2, 25e-3); }) == 0);
    CHECK(balanced);
}

#endif
