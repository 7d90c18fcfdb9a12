// Many hands at one level: every trial an attempt of its own, made, solved and marked.
//
// Trial i of a seed draws its numbers from stream i alone, so its result is the same on any number of
// threads, in any shard and order. Shards are consecutive: those of 1/K … K/K laid one after another are
// the whole. Question drills are solved once and answered by each hand. Training only.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "score/scorecard.h"
#include "study/hand_skill.h"

namespace graftwright {

struct StudyOptions {
    HandSkill skill = expert_hand();
    int trials = 100;
    std::uint64_t seed = 1;
    int jobs = 1;
    int shard = 1, shards = 1;                                        // which part, from 1, of how many
    bool shares = false;                                              // re-solve once per bite for the worst of them
    std::function<void(std::size_t done, std::size_t all)> progress;  // may be empty; called under a lock
};

// What does not exist is empty.
struct Trial {
    int number = 0;         // from 1, over all shards
    std::size_t bites = 0;  // in the eye at the end
    std::optional<double> cylinder_D, steep_axis_deg, mean_D, flattening_D, leak_pressure_mmHg;
    std::optional<double> posterior_gape_um, step_um, total, optics, seal, apposition, technique;
    bool passed = false;
    std::optional<std::size_t> worst_bite;  // from 0
    std::optional<double> worst_share_D;
    std::string verdict;  // first mark that was missed, why there is no number, or a drill's sentence
};

[[nodiscard]] std::vector<Trial> run_study(const ScenarioModel& model, const StudyOptions& options);

// The trial numbers of a shard: from `first` up to and without `end`.
struct TrialRange {
    int first = 1, end = 1;
};
[[nodiscard]] TrialRange trials_of_shard(int trials, int shard, int shards);

[[nodiscard]] int count_passed(const std::vector<Trial>& trials);

}  // namespace graftwright
