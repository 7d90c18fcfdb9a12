#include "hand/tying_order.h"

#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

using namespace graftwright;

TEST_CASE("tying order: cardinals at 12, 6, 3 and 9 o'clock, then the gaps halved, opposite ones in turn", "[hand]") {
    CHECK(tying_order_deg(4) == std::vector<double>{90, 270, 0, 180});
    CHECK(tying_order_deg(8) == std::vector<double>{90, 270, 0, 180, 135, 315, 45, 225});
    CHECK(tying_order_deg(12) == std::vector<double>{90, 270, 0, 180, 120, 300, 30, 210, 150, 330, 60, 240});
    CHECK(tying_order_deg(0).empty());
}

TEST_CASE("tying order: every slot once, whatever their number", "[hand]") {
    for (int n = 1; n <= 64; ++n) {
        std::vector<double> order = tying_order_deg(n);
        INFO(n);
        REQUIRE(order.size() == static_cast<std::size_t>(n));
        CHECK(order.front() == 90.0);
        std::sort(order.begin(), order.end());
        for (std::size_t i = 1; i < order.size(); ++i) CHECK(std::abs(order[i] - order[i - 1] - 360.0 / n) < 1e-9);
    }
}
