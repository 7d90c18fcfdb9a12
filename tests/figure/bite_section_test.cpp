#include "figure/bite_section.h"

#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

namespace graftwright {
namespace {

constexpr double kRounding = 1e-9;  // mm

OrderedBite deep_bite() {
    OrderedBite bite;
    bite.graft_bite_mm = 1.0;
    bite.host_bite_mm = 1.25;
    bite.graft_depth_um = 500.0;
    bite.host_depth_um = 560.0;
    return bite;
}

TEST_CASE("section: a bite's way goes from its entry by both depths to its exit", "[figure][geometry]") {
    const BiteSection cut = bite_section(Scenario{}, deep_bite(), {}, 1.5);
    CHECK(cut.thread.front() == Point{-1.0, 0.0});
    CHECK(cut.thread.back().x == Approx(1.25));
    CHECK(std::abs(cut.thread.back().y) < kRounding);
    const auto deepest =
        std::min_element(cut.thread.begin(), cut.thread.end(), [](Point a, Point b) { return a.y < b.y; });
    CHECK(deepest->y == Approx(-0.56));
    CHECK(std::abs(deepest->x) < kRounding);
    OrderedBite running = deep_bite();
    running.run = 0;
    CHECK(bite_section(Scenario{}, running, {}, 1.5).strand.empty());
}

TEST_CASE("section: a step lifts the host with all that is in it, a gape opens the back alone", "[figure][geometry]") {
    const BiteSection laid = bite_section(Scenario{}, deep_bite(), {}, 1.5);
    const BiteSection solved = bite_section(Scenario{}, deep_bite(), {0.1, 0.02}, 1.5);
    CHECK(solved.donor == laid.donor);
    CHECK(solved.thread.front() == laid.thread.front());
    CHECK(solved.thread.back().y - laid.thread.back().y == Approx(0.1));
    CHECK(solved.taught[1].from.y - laid.taught[1].from.y == Approx(0.1));
    CHECK(solved.host[1] == Point{0.0, 0.1});
    CHECK(solved.host[2].x == Approx(0.02));
    REQUIRE(solved.strand.size() == 4);
    CHECK(solved.strand[2] == Point{0.0, 0.1});
}

TEST_CASE("section: the wound at a bite is that of the place nearest to it, also across 3 o'clock", "[figure]") {
    std::vector<SealPlace> profile(2);
    profile[0].deg = 4.0;
    profile[0].step_um = 50.0;
    profile[1].deg = 180.0;
    CHECK(wound_at(profile, 350.0).step == Approx(0.05));
    CHECK(wound_at(profile, 100.0).step == 0.0);
    CHECK(wound_at({}, 100.0).gape == 0.0);
}

}  // namespace
}  // namespace graftwright
