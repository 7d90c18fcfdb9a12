// The scorecard and the verification result as one line of JSON each, in the fixed format.
//
// A number that does not exist is null; none is ever made up.
#pragma once

#include <string>

#include "score/scorecard.h"
#include "score/verification.h"

namespace graftwright {

[[nodiscard]] std::string scorecard_json(const Scenario& scenario, const Scorecard& card);
[[nodiscard]] std::string ring_json(const RingResult& result);

}  // namespace graftwright
