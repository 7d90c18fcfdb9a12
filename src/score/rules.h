// The rules of the score, in one place: what is measured, what earns full and no marks, and why.
//
// optics 35 (cylinder 25, flattening 10), seal 30, apposition 15 (step and posterior gape), technique 20.
// Full marks up to the limit, none from twice the limit (seal: from half of it down), linear between.
// A limit that the scenario does not set drops its rule, and the rest are scaled up to 100.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/words.h"
#include "score/bite_metrics.h"
#include "score/measured_closure.h"
#include "score/pass_marks.h"

namespace graftwright {

enum class Part { optics, seal, apposition, technique };
[[nodiscard]] const char* part_name(Part part);

struct Rule {
    Part part = Part::optics;
    std::string what;
    Unit unit = Unit::none;
    double points = 0.0;
    double measured = 0.0;
    double full = 0.0;  // marks are full from here …
    double none = 0.0;  // … and nil from here on (on either side of `full`)
    std::string source;

    [[nodiscard]] double share_earned() const;  // 0 … 1
};

struct PartScore {
    Part part = Part::optics;
    std::optional<double> points;  // scaled; empty where all its rules dropped out
};

struct Score {
    double total = 0.0;  // 0 … 100
    std::vector<PartScore> parts;
    bool passed = false;
    std::vector<Rule> rules;
    std::vector<PassMark> marks;
};

[[nodiscard]] double max_step_um(const ClosureMeasures& measures);
[[nodiscard]] double max_posterior_gape_um(const ClosureMeasures& measures);

// measures and ideal must have converged and carry keratometry.
[[nodiscard]] Score apply_rules(const Scenario& scenario, const Attempt& attempt, const ClosureMeasures& measures,
                                const ClosureMeasures& ideal, const std::vector<BiteMetrics>& bites);

}  // namespace graftwright
