// What bites are called where threads run, and which of them are the hand's.
#include "score/bite_words.h"

#include <catch2/catch.hpp>

using namespace graftwright;

namespace {

Run run_of(std::size_t bites) {
    Run run;
    run.bites.resize(bites);
    return run;
}

}  // namespace

TEST_CASE("bite words: a single bite is its number, one of a run says which thread it lies on", "[score]") {
    const auto bites = bites_in_order(std::vector<Bite>(8), {run_of(8), run_of(4)});
    CHECK(bite_name(bites, 2) == "bite 3");
    CHECK(bite_name(bites, 11) == "bite 12 (run 1, bite 4)");
    CHECK(bite_name(bites, 16) == "bite 17 (run 2, bite 1)");
    CHECK(run_name(bites[7]).empty());
    CHECK(run_name(bites[8]) == "run 1");
    CHECK(run_numbers(bites) == "9–16: run 1; 17–20: run 2");
    CHECK(threads_words(bites) == "8 single, 12 in 2 running threads");
    auto one_cut_out = bites;
    one_cut_out[3].removed = true;
    CHECK(threads_words(one_cut_out) == "7 single, 12 in 2 running threads");
}

TEST_CASE("bite words: nothing is said of runs where all bites are single", "[score]") {
    const auto single = bites_in_order(std::vector<Bite>(3), {});
    CHECK(run_numbers(single).empty());
    CHECK(threads_words(single).empty());
    const auto alone = bites_in_order({}, {run_of(16)});
    CHECK(bite_name(alone, 15) == "bite 16 (run 1, bite 16)");
    CHECK(run_numbers(alone) == "1–16: run 1");
    CHECK(threads_words(alone) == "16 in a running thread");
    CHECK(run_numbers(bites_in_order({}, {run_of(4), run_of(4), run_of(4)})) == "from 1 on: 3 runs");
}

TEST_CASE("bite words: a level's own bites and runs come first and are no hand's", "[score]") {
    const std::vector<Run> runs{run_of(4), run_of(3)};
    Start start;
    using Numbers = std::vector<std::size_t>;
    CHECK(bites_of_the_hand(start, 9, runs) == Numbers{0, 1, 2, 3, 4, 5, 6, 7, 8});
    start.bites.resize(1);
    start.runs = {run_of(4)};
    CHECK(bites_of_the_hand(start, 9, runs) == Numbers{1, 6, 7, 8});
    CHECK(bites_of_the_hand(start, 3, {}) == Numbers{1, 2});
    start.bites.resize(2);
    start.runs = runs;
    CHECK(bites_of_the_hand(start, 9, runs).empty());
}
