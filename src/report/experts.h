// Simulated experts: closures whose every bite is nearly right, tied at many tensions, solved honestly.
//
// What no hand can escape is the trade between a flatter cornea and a tighter wound; a cloud of experts shows
// where an attempt stands in it. Expert i of a seed: the ideal pattern's bites, cardinals first, one tension
// for the whole closure (7–30 mN, evenly in its logarithm), and normal scatter about it that just stays
// within full marks (figures T8-01, T8-12: range over sixteen bites ≈ 3.5 standard deviations):
//   host angle 1.0°, donor against host 0.6°, skew 0.03 mm, length 0.07 mm, depth 0.028 of the thickness about
//   0.92 (at most 0.97), tension 8 % (our choice), entry and exit 86° ± 3°, at most 90°.
// A running thread is worked round at 1.9 times its knot's tension, which leaves all its spans alike (knots.h).
// Solving sixteen bites takes a fifth of a second, so the clouds are shipped, levels/experts/ID.csv, made by
// graftwright_experts (tools/experts.cpp); tests/report re-solves some rows. They are no people, and no
// measure of what people reach.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "files/attempt.h"
#include "files/scenario.h"
#include "score/scenario_model.h"

namespace graftwright {

inline constexpr std::uint64_t kExpertSeed = 7;

struct Expert {
    int index = 0;
    double tension_mN = 0;  // the closure's, before scatter
    double cylinder_D = 0, mean_D = 0, leak_pressure_mmHg = 0;
};

struct Experts {
    std::vector<Expert> rows;
    std::string why_none;  // where there are no rows: a sentence
};

[[nodiscard]] Attempt expert_attempt(const Scenario& scenario, std::uint64_t seed, int index);
// The tension that all of that expert's bites scatter about.
[[nodiscard]] double expert_tension_mN(std::uint64_t seed, int index);
// Empty where the closure found no balance.
[[nodiscard]] std::optional<Expert> solve_expert(const ScenarioModel& model, std::uint64_t seed, int index);

// A number that changes with anything in the scenario that the mechanics or the pattern depend on.
[[nodiscard]] std::uint64_t mechanics_digest(const Scenario& scenario);

[[nodiscard]] std::string write_experts(const Scenario& scenario, std::uint64_t seed, const std::vector<Expert>& rows);
// The rows of a table, if it is one and was solved for this scenario as it is.
[[nodiscard]] Experts read_experts(std::string_view text, const Scenario& scenario);
// levels_dir/experts/ID.csv
[[nodiscard]] Experts find_experts(const Scenario& scenario, const std::string& levels_dir);

}  // namespace graftwright
