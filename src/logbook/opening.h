// How a logbook comes to be open: made, brought up to date, refused, or set aside. Private to this room.
#pragma once

#include <memory>
#include <string>

#include "base/result.h"
#include "logbook/database.h"
#include "logbook/logbook.h"

namespace graftwright {

struct OpenedDatabase {
    std::unique_ptr<Database> database;
    std::string pseudonym_key;
    std::string notice;
};

[[nodiscard]] Result<OpenedDatabase> open_database(const LogbookPlace& place, const LogbookOptions& options);

// What to say of a damaged file, after a copy of it (and of its write-ahead log) was made beside it: "…damaged-1", or
// the next free number; one with the same bytes serves. may_write false: there is no writing beside it.
[[nodiscard]] std::string damaged_words(const std::string& what, const std::string& path, bool may_write);

}  // namespace graftwright
