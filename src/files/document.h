// Text to JSON tree, with limits, and from places in the tree back to lines of the text.
//
// Limits, all our choice: 16 MiB a file, 32 levels of nesting, 1000 entries in one list or object
// (250,000 in the list of events and inside it, about what 16 MiB can hold): no honest file comes
// near them, and a hostile one can neither exhaust the stack nor the memory. A key that stands
// twice in one object is a fault: JSON leaves open which one counts, and silence would hide a slip.
// Does not know what the keys mean. Private to this room: it is the one header that shows the JSON
// library to the readers.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

#include "base/result.h"

namespace graftwright {

using Json = nlohmann::json;

inline constexpr std::size_t kLargestFileBytes = std::size_t{16} << 20;
inline constexpr std::size_t kDeepestNesting = 32;
inline constexpr std::size_t kMostEntries = 1000;
inline constexpr std::size_t kMostEventEntries = 250000;
inline constexpr std::size_t kMostFaults = 200;  // reported of one file

// The outermost value is an object. Numbers without a fraction come out as integers whether they
// were written 15 or 15.0.
[[nodiscard]] Result<Json> parse_document(std::string_view text, const std::string& file_name);

// A fault whose place is known as a JSON pointer ("/bites/2/tension_mN"), not yet as a line.
struct Finding {
    std::string pointer;
    std::string message;
    bool at_key = false;                      // the key is at fault, not its value
    std::string spoils = {};                  // a value that can't be used: findings that stand on it are void
    std::vector<std::string> stands_on = {};  // the values that a rule compared
};
using Findings = std::vector<Finding>;

// The findings as faults with lines, in the order of the lines, at most kMostFaults of them. A
// pointer that is not in the text (a key left to its default) takes the line of what holds it.
// Empty text: no lines.
[[nodiscard]] Faults faults_from(const Findings& findings, std::string_view text, const std::string& file_name);

// Without the findings that stand on a value which `before` found to be unusable.
[[nodiscard]] Findings without_void(Findings findings, const Findings& before);

// One step further down: pointer + "/" + key, escaped (RFC 6901).
[[nodiscard]] std::string below(const std::string& pointer, std::string_view key);
[[nodiscard]] std::string below(const std::string& pointer, std::size_t index);

}  // namespace graftwright
