// The shape of the tables, version by version.
//
// Each version is a list of statements that turns the one before into it; a logbook records its version, and
// whatever is missing is done in order when it is opened, in one transaction with the record. Statements
// are the same on both back ends except for the word that numbers rows. Never edit a version that has
// been released: append one.
//
//   1  attempts, their bites, the files' texts
//   2  key of the pseudonyms; indexes for a trainee's page and for a group
//   3  an index that answers how far a trainee got with each level
#pragma once

#include <string>
#include <vector>

namespace graftwright {

inline constexpr int kLogbookVersion = 3;

// Statements that lead from version − 1 to version. server: PostgreSQL's words instead of SQLite's.
[[nodiscard]] std::vector<std::string> migration(int version, bool server);

}  // namespace graftwright
