// The levels of a folder, in the order of the course; a broken file is listed with its reason.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "files/scenario.h"

namespace graftwright {

struct Level {
    std::string path;
    std::optional<Scenario> scenario;  // empty: broken
    Faults faults;                     // why, all of them
    bool own = false;                  // of the user's making

    // The scenario's title, or the file's name where there is none.
    [[nodiscard]] std::string name() const;
};

// Every *.json of the folder itself that is not a schema; sorted by order, then id, broken ones last.
[[nodiscard]] Result<std::vector<Level>> read_levels(const std::string& folder);

// The course with the user's own levels in their places. An own level whose id another has already is broken:
// attempts name their level by its id. An own folder that can't be read adds nothing.
[[nodiscard]] std::vector<Level> with_own_levels(std::vector<Level> course, const std::string& own_folder);

}  // namespace graftwright
