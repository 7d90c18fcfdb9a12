// Work in a process of its own: its answer, its failure, its end.
#include "report/own_process.h"

#include <csignal>
#include <cstdlib>
#include <new>
#include <stdexcept>
#include <unistd.h>

#include <catch2/catch.hpp>

using namespace graftwright;
using Catch::Matchers::Contains;

TEST_CASE("own process: the answer comes back whole, and nothing else that was done there", "[report]") {
    int touched = 0;
    const std::string large(3'000'000, '\0');
    CHECK(in_own_process([&] {
              ++touched;
              return large;
          }) == large);
    CHECK(in_own_process([] { return std::string(); }).empty());
    CHECK(touched == 0);
}

TEST_CASE("own process: what is thrown there is thrown here, in its words", "[report]") {
    CHECK_THROWS_WITH(in_own_process([]() -> std::string { throw std::runtime_error("no size"); }), "no size");
    CHECK_THROWS_WITH(in_own_process([]() -> std::string { throw std::bad_alloc(); }), "there is not enough memory");
}

TEST_CASE("own process: one that a library ends is a failure, not our end", "[report]") {
    const int how = GENERATE(SIGKILL, SIGTERM);
    CHECK_THROWS_WITH(in_own_process([how]() -> std::string {
                          std::signal(SIGTERM, SIG_DFL);
                          std::raise(how);
                          return "never";
                      }),
                      Contains("more memory or threads"));
    CHECK_THROWS_WITH(in_own_process([]() -> std::string { _exit(7); }), Contains("more memory or threads"));
}
