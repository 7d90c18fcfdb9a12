// What the tests of this room share: the folders, and faults without the folder in their names.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"

namespace graftwright::test {

inline const std::string kLevels = GRAFTWRIGHT_SOURCE_DIR "/levels";
inline const std::string kData = GRAFTWRIGHT_SOURCE_DIR "/tests/data";

// "line: message" of each fault.
[[nodiscard]] inline std::vector<std::string> lines_of(const Faults& faults) {
    std::vector<std::string> lines;
    for (const Fault& fault : faults) lines.push_back(std::to_string(fault.line) + ": " + fault.message);
    return lines;
}

}  // namespace graftwright::test
