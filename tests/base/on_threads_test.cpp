// Work on threads: all of it done, whatever the machine gives, and no failure that ends the program.
#include "base/on_threads.h"

#include <algorithm>
#include <atomic>
#include <new>
#include <stdexcept>
#include <system_error>
#include <utility>
#include <vector>

#include <catch2/catch.hpp>

using namespace graftwright;

namespace {

// Starts so many threads and then no more, as a machine does at its limit of processes.
ThreadStart at_most(int threads) {
    return [left = threads](std::function<void()> work) mutable {
        if (left-- <= 0) throw std::system_error(std::make_error_code(std::errc::resource_unavailable_try_again));
        return start_thread(std::move(work));
    };
}

}  // namespace

TEST_CASE("threads: each piece of work is done once, on however many threads", "[base]") {
    const int threads = GENERATE(0, 1, 2, 7);
    std::vector<int> done(100, 0);
    on_threads(done.size(), threads, [&](std::size_t i) { ++done[i]; });
    CHECK(std::all_of(done.begin(), done.end(), [](int times) { return times == 1; }));
    on_threads(0, threads, [](std::size_t) { FAIL("there is no work"); });
}

TEST_CASE("threads: those that cannot be started are done without, in the end on the caller's alone", "[base]") {
    const int given = GENERATE(0, 1, 3);
    std::vector<int> done(100, 0);
    on_threads(
        done.size(), 64, [&](std::size_t i) { ++done[i]; }, at_most(given));
    CHECK(std::all_of(done.begin(), done.end(), [](int times) { return times == 1; }));
}

TEST_CASE("threads: a start that finds no memory is one thread fewer", "[base]") {
    std::vector<int> done(10, 0);
    on_threads(
        done.size(), 4, [&](std::size_t i) { ++done[i]; },
        [](const std::function<void()>&) -> std::thread { throw std::bad_alloc(); });
    CHECK(std::all_of(done.begin(), done.end(), [](int times) { return times == 1; }));
}

TEST_CASE("threads: what a piece of work throws comes out at the caller, once all have stopped", "[base]") {
    const int threads = GENERATE(1, 2, 7);
    std::atomic<int> at_work{0};
    const auto fails = [&](std::size_t i) {
        ++at_work;
        if (i == 20) {
            --at_work;
            throw std::bad_alloc();
        }
        --at_work;
    };
    CHECK_THROWS_AS(on_threads(1000, threads, fails), std::bad_alloc);
    CHECK(at_work == 0);
}

TEST_CASE("threads: after a failure no new piece is begun", "[base]") {
    std::vector<int> begun(1000, 0);
    CHECK_THROWS_WITH(on_threads(begun.size(), 1,
                                 [&](std::size_t i) {
                                     ++begun[i];
                                     if (i == 3) throw std::runtime_error("the third");
                                 }),
                      "the third");
    CHECK(std::count(begun.begin(), begun.end(), 1) == 4);
}
