// What a report is about: one attempt in its scenario, scored. Nothing is computed anew that the score knows.
#pragma once

#include "files/attempt.h"
#include "files/scenario.h"
#include "report/experts.h"
#include "score/scorecard.h"

namespace graftwright {

// The references must outlive the case.
struct Case {
    const Scenario& scenario;
    const Attempt& attempt;
    const Scorecard& card;
    Experts experts;
};

enum class Whose { attempt, ideal };

// The measures of the attempt or its ideal; nullptr where there is no closure.
[[nodiscard]] inline const ClosureMeasures* measures_of(const Case& what, Whose whose) {
    if (!what.card.converged()) return nullptr;
    if (whose == Whose::attempt) return &what.card.attempt;
    return what.card.ideal ? &*what.card.ideal : nullptr;
}

}  // namespace graftwright
