// What no schema can say: rules that compare values of a file with each other, or an attempt with
// its scenario. Ranges of single values are the schemas'.
//
// A rule refuses only what the model cannot mean or the eye cannot hold; what is merely poor work
// is the score's business. So one or two bites pass (score says that they hold nothing), and a path
// flatter than straight passes (it is taken as straight). Private to this room; the limits are in
// files/limits.h.
#pragma once

#include "files/attempt.h"
#include "files/document.h"
#include "files/hand_record.h"
#include "files/ring_case.h"
#include "files/scenario.h"

namespace graftwright {

[[nodiscard]] Findings rules_of(const Scenario& scenario);
[[nodiscard]] Findings rules_of_task(const Scenario& scenario);  // its kind and marks; part of the above
[[nodiscard]] Findings rules_of(const Attempt& attempt);
[[nodiscard]] Findings rules_of(const RingCase& ring);
[[nodiscard]] Findings rules_of(const HandRecord& hand);
[[nodiscard]] Findings rules_of(const Attempt& attempt, const Scenario& scenario);

}  // namespace graftwright
