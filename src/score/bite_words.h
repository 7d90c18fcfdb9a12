// How a bite and a closure's threads are called, and which of its bites the hand laid.
//
// Bites count from 1 in the order of bites_in_order, runs from 1, bites of a run from 1 in lay order.
#pragma once

#include <string>
#include <vector>

#include "files/scenario.h"
#include "score/bites_in_order.h"

namespace graftwright {

// "bite 3"; of a running thread "bite 12 (run 1, bite 4)".
[[nodiscard]] std::string bite_name(const std::vector<OrderedBite>& bites, std::size_t b);
// "run 1" for a bite of a running thread, "" for a single one.
[[nodiscard]] std::string run_name(const OrderedBite& bite);
// Which numbers are whose: "9–16: run 1"; several one after the other: "9–16: run 1; 17–24: run 2". "" where
// all bites are single. From the third run on only where runs begin: "from 9 on: 3 runs".
[[nodiscard]] std::string run_numbers(const std::vector<OrderedBite>& bites);
// Those in the eye: "8 single, 16 in 2 running threads"; "16 in a running thread"; "" where all bites are single.
[[nodiscard]] std::string threads_words(const std::vector<OrderedBite>& bites);

// Numbers, in that order and from 0, of the bites that the hand laid: a level's start is the first single bites
// and the first runs of an attempt. `bites`: how many there are in all, those of `runs` counted.
[[nodiscard]] std::vector<std::size_t> bites_of_the_hand(const Start& start, std::size_t bites,
                                                         const std::vector<Run>& runs);

}  // namespace graftwright
