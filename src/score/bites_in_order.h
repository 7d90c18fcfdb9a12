// Every bite of an attempt in the order of `per_bite`: single bites in tying order, then run by run.
//
// A bite of a run has no knot of its own: its tension is the run's at the knot, its throws are "". Scorecards,
// reports and pictures count bites in this order.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "files/attempt.h"

namespace graftwright {

// A bite and the pattern it belongs to.
struct OrderedBite : Bite {
    std::optional<std::size_t> run;  // number of the run, from 0; empty: a single bite
    std::size_t in_run = 0;          // its place there in lay order, from 0
};

[[nodiscard]] std::vector<OrderedBite> bites_in_order(const std::vector<Bite>& bites,
                                                      const std::vector<Run>& runs = {});
[[nodiscard]] inline std::vector<OrderedBite> bites_in_order(const Attempt& attempt) {
    return bites_in_order(attempt.bites, attempt.runs);
}
// Numbers of the bites that lie in the eye at the end, pattern by pattern: the single ones, then each run. None is
// empty.
[[nodiscard]] std::vector<std::vector<std::size_t>> patterns_in_eye(const std::vector<OrderedBite>& ordered);
// How many bites there are, and how many lie in the eye at the end, those of runs counted.
[[nodiscard]] std::size_t bite_count(const Attempt& attempt);
[[nodiscard]] std::size_t bites_in_eye(const std::vector<Bite>& bites, const std::vector<Run>& runs);
[[nodiscard]] inline std::size_t bites_in_eye(const Attempt& attempt) {
    return bites_in_eye(attempt.bites, attempt.runs);
}
// The other way: single bites and the paths of runs as they stand in `ordered`; all else of the runs as in `runs`.
[[nodiscard]] std::pair<std::vector<Bite>, std::vector<Run>> bites_and_runs(const std::vector<OrderedBite>& ordered,
                                                                            std::vector<Run> runs);

// A length of a running thread on the surface, from the host exit of one bite to the donor entry of the next:
// numbers of the two in bites_in_order. The run's knot lies in the last span, from its last bite to its first.
struct RunSpan {
    std::size_t from = 0, to = 0, run = 0;
    bool knot = false;
};
[[nodiscard]] std::vector<RunSpan> run_spans(std::size_t single_bites, const std::vector<Run>& runs);

}  // namespace graftwright
