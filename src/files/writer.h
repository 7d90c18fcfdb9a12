// Scenario and attempt to text: every key written out, two-space indent, numbers as the shortest
// decimals that read back to the same bits. read(write(x)) == x for every x that a reader accepts.
#pragma once

#include <string>

#include "files/attempt.h"
#include "files/hand_record.h"
#include "files/scenario.h"

namespace graftwright {

[[nodiscard]] std::string write_scenario(const Scenario& scenario);
[[nodiscard]] std::string write_attempt(const Attempt& attempt);
// Keys that say nothing are left out of its events.
[[nodiscard]] std::string write_hand(const HandRecord& hand);

}  // namespace graftwright
