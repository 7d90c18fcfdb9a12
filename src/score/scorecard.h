// The whole answer to one attempt: measures, ideal, whose fault it is, marks.
//
// Share of a bite: the whole tying order re-solved with that one bite replaced by its ideal twin;
// Δ = attempt − with twin in (J0, J45): share = 2|Δ| ≥ 0 with the steep axis of Δ; leak share = leak
// pressure with the twin − attempt's (positive: the bite costs that much). Interactions are what is
// left over: attempt − ideal − Σ Δ.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "score/rules.h"

namespace graftwright {

struct BiteShare {
    double share_D = 0.0;
    double share_axis_deg = 0.0;
    PowerVector delta;
    double share_leak_mmHg = 0.0;
};

struct Scorecard {
    std::string scenario;
    std::size_t bite_count = 0;  // in the eye at the end
    ClosureMeasures attempt;
    std::optional<ClosureMeasures> ideal;  // empty where the attempt found no balance
    std::vector<BiteMetrics> bites;
    std::vector<std::optional<BiteShare>> shares;  // empty entries: not asked for, removed, not solved
    std::optional<PowerVector> interactions;
    std::optional<Score> score;

    [[nodiscard]] bool converged() const { return attempt.status.converged && attempt.keratometry; }
    [[nodiscard]] std::string reason() const;
};

struct ScoreOptions {
    bool shares = true;
    // Leaves out what no mark needs: the ideal's leak pressure, and irregularity where it is no mark.
    bool marks_only = false;
    int threads = 2;
    std::function<void(std::size_t done, std::size_t all)> progress;  // closures solved; may be empty
};

[[nodiscard]] Scorecard score_attempt(const ScenarioModel& model, const Attempt& attempt,
                                      const ScoreOptions& options = {});

}  // namespace graftwright
