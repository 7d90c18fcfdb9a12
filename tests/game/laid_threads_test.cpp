// What is undone on the table is undone on the donor afloat too: a tether for each bite in place, and no other.
#include "game/laid_threads.h"

#include <catch2/catch.hpp>

namespace graftwright {
namespace {

Bite single_at(double deg) {
    Bite bite;
    bite.graft_deg = bite.host_deg = deg;
    return bite;
}

TEST_CASE("laid threads: a bite that was cut out and undone can be cut out again", "[game][quick]") {
    const bool by_hand = GENERATE(true, false);  // or by one undo more
    DonorAfloat donor(AfloatShape{});
    LaidThreads threads;
    for (const double deg : {90.0, 270.0}) {
        threads.remember();
        threads.tie(single_at(deg), false, donor);
    }
    threads.remember();
    threads.cut(0, donor);
    REQUIRE(donor.tethers() == 1);
    REQUIRE(threads.undo(donor));
    REQUIRE(donor.tethers() == 2);
    REQUIRE(threads.undo(donor));  // the second knot
    REQUIRE(threads.in_place() == 1);
    REQUIRE(donor.tethers() == 1);
    if (by_hand)
        threads.cut(0, donor);
    else
        REQUIRE(threads.undo(donor));
    CHECK(threads.in_place() == 0);
    CHECK(donor.tethers() == 0);
}

}  // namespace
}  // namespace graftwright
