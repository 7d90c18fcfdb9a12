// Words that several pictures and the page share.
#pragma once

#include <string>

#include "base/words.h"
#include "figure/words.h"
#include "report/case.h"
#include "report/picture.h"

namespace graftwright {

// "program 0.1.0; model: linear shells …": what computed the numbers; of running threads only where there are some.
[[nodiscard]] std::string program_and_model(const Case& what);
// "Sixteen single bites — trainee": whose closure it is, for the foot of a single picture.
[[nodiscard]] std::string subject_of(const Case& what);
// "attempt" or "ideal twin".
[[nodiscard]] const char* word_of(Whose whose);

// A panel that says why there is nothing to see.
[[nodiscard]] Picture empty_panel(std::string name, std::string title, const std::string& reason);
// Why measures_of() is empty.
[[nodiscard]] std::string why_nothing(const Case& what, Whose whose);

}  // namespace graftwright
