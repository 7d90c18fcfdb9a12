// The logbook for people at a terminal: plain text, columns aligned by characters, not bytes.
#pragma once

#include <string>

#include "logbook/entry.h"
#include "logbook/trainee_page.h"

namespace graftwright {

[[nodiscard]] std::string list_head();
[[nodiscard]] std::string list_line(const Entry& entry, const std::string& shown_name);
// Level, best and course of each metric, then where each skill's learning curve stands.
[[nodiscard]] std::string curve_table(const TraineePage& page, const std::string& shown_name);

}  // namespace graftwright
