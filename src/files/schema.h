// A tree held against the JSON Schema of its kind: types, ranges, choices, missing and unknown
// keys.
//
// The schemas are the very files that ship in levels/, built into the program (embed.cmake), so
// what a teacher's editor accepts is what the program accepts. The verdict is the validator's
// (JSON Schema draft 7); only the words are ours: key, value, and what was expected.
// Rules that compare two values are in rules.h. Private to this room.
#pragma once

#include <string_view>

#include "files/document.h"

namespace graftwright {

enum class FileKind { scenario, attempt, ring, hand };

// Not const: events are taken out for the while and checked one by one, so that a long hand record
// costs no more memory than it is worth. The tree comes back as it was.
[[nodiscard]] Findings hold_against_schema(FileKind kind, Json& root);

// The shipped text of levels/<kind>.schema.json.
[[nodiscard]] std::string_view schema_text(FileKind kind);

}  // namespace graftwright
