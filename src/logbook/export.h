// The logbook as text for other programs: CSV (RFC 4180) and JSON.
//
// CSV: CRLF line ends, a header line, fields quoted where they hold comma, quote or line end; the last column
// carries the caution in every row. Numbers are the shortest decimals that read back to the same bits; a
// number that does not exist is an empty field, in JSON null. Locales do not matter. Names come out as
// they went in: a spreadsheet that takes "=…" for a formula should be told to import text.
#pragma once

#include <functional>
#include <string>

#include "logbook/logbook.h"

namespace graftwright {

// Takes text piece by piece, so that no export has to fit in memory.
using TextSink = std::function<void(const std::string&)>;

// One line, for where the full caution has no room.
inline constexpr const char* kShortCaution =
    "Training only: not a medical device, not validated on patients, certifies nobody. Never use it for a person.";

// A line an attempt.
void export_csv(Logbook& logbook, const LogbookSelection& selection, bool anonymous, const TextSink& sink);
// A line a bite.
void export_bites_csv(Logbook& logbook, const LogbookSelection& selection, bool anonymous, const TextSink& sink);
// One object: format, version, caution, attempts with their bites and the attempt file itself.
void export_json(Logbook& logbook, const LogbookSelection& selection, bool anonymous, const TextSink& sink);

// One field, quoted where it has to be.
[[nodiscard]] std::string csv_field(const std::string& text);

}  // namespace graftwright
