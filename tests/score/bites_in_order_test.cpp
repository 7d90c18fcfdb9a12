#include "score/bites_in_order.h"

#include <catch2/catch.hpp>

using namespace graftwright;

namespace {

Attempt two_singles_and_two_runs() {
    Attempt attempt;
    attempt.bites.resize(2);
    attempt.bites[1].removed = true;
    attempt.bites[1].tension_mN = 11.0;
    attempt.runs.resize(2);
    attempt.runs[0].bites.resize(3);
    attempt.runs[0].tension_mN = 9.0;
    attempt.runs[0].bites[1].host_deg = 33.0;
    attempt.runs[1].bites.resize(1);
    return attempt;
}

}  // namespace

TEST_CASE("bites in order: single bites, then run by run with the run's tension", "[score]") {
    const Attempt attempt = two_singles_and_two_runs();
    const std::vector<OrderedBite> all = bites_in_order(attempt);
    REQUIRE(all.size() == 6);
    CHECK_FALSE(all[1].run);
    CHECK(all[1].tension_mN == 11.0);
    CHECK(all[3].run == 0);
    CHECK(all[3].host_deg == 33.0);
    CHECK(all[3].tension_mN == 9.0);
    CHECK(all[3].throws.empty());
    CHECK(all[5].run == 1);
    CHECK(bites_in_eye(attempt) == 5);
}

TEST_CASE("bites in order: put apart again they are the attempt's", "[score]") {
    const Attempt attempt = two_singles_and_two_runs();
    const auto [bites, runs] = bites_and_runs(bites_in_order(attempt), attempt.runs);
    CHECK(bites == attempt.bites);
    CHECK(runs == attempt.runs);
}

TEST_CASE("bites in order: a run's spans go round and the last one holds its knot", "[score]") {
    const Attempt attempt = two_singles_and_two_runs();
    const std::vector<RunSpan> spans = run_spans(attempt.bites.size(), attempt.runs);
    REQUIRE(spans.size() == 4);
    CHECK((spans[0].from == 2 && spans[0].to == 3 && !spans[0].knot));
    CHECK((spans[2].from == 4 && spans[2].to == 2 && spans[2].knot));
    CHECK((spans[3].from == 5 && spans[3].to == 5 && spans[3].run == 1 && spans[3].knot));
}
