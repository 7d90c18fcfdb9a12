// The logbook as text for other programs: CSV (RFC 4180) and JSON.
//
// CSV: CRLF line ends, a header line, fields quoted where they hold comma, quote or line end; the last column
// carries the caution in every row. Numbers are the shortest decimals that read back to the same bits; a
// number that does not exist is an empty field, in JSON null. Locales do not matter. A name that a
// spreadsheet would run as a formula (= + - @, a tab, their wide forms) gets an apostrophe in front, and one that
// begins with an apostrophe another, so that the name can be had back; JSON has names as they are.
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

// A text of somebody's own choice, such that no spreadsheet takes it for a formula.
[[nodiscard]] std::string no_formula(const std::string& text);

}  // namespace graftwright
