// Practice made up for pictures and tests of screens and pages: numbers like a trainee's who gets better.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "logbook/logbook.h"
#include "view/practice/trainee_screen.h"

namespace graftwright {

// Attempts of one trainee, oldest first: drills, then whole closures.
[[nodiscard]] std::vector<Entry> practised(const std::string& trainee, int attempts, int seed);
// A logbook file of a group of six in this folder.
[[nodiscard]] Logbook group_logbook(const std::string& folder);
// A trainee's model as the game would make it from that logbook; scenario "": all levels.
[[nodiscard]] TraineeModel trainee_model(Logbook& logbook, const std::string& trainee, const std::string& scenario);

}  // namespace graftwright
