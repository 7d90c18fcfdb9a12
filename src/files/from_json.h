// From a tree to the types. Private to this room.
//
// Tolerant on purpose: a value that the schema has found fault with is left at its default, so that
// the rules can still be asked about the rest of the file, and all faults come at once.
#pragma once

#include "files/attempt.h"
#include "files/document.h"
#include "files/hand_record.h"
#include "files/ring_case.h"
#include "files/scenario.h"

namespace graftwright {

[[nodiscard]] Scenario scenario_from(const Json& root);
[[nodiscard]] Attempt attempt_from(const Json& root);
[[nodiscard]] RingCase ring_case_from(const Json& root);
[[nodiscard]] HandRecord hand_from(const Json& root);

}  // namespace graftwright
