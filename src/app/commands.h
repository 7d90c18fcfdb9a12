// The commands of the program; each returns its exit code.
#pragma once

#include <string>
#include <vector>

#include "score/scorecard_table.h"

namespace graftwright {

inline constexpr int kDone = 0, kInputFault = 1, kWrongUsage = 2, kMachineFault = 3;

struct ScoreCommand {
    std::vector<std::string> attempts;
    std::string scenario;  // "" : the one the attempt names
    bool json = false, no_shares = false, explain = false;

    [[nodiscard]] int run() const;
};

[[nodiscard]] int check(const std::vector<std::string>& files);
[[nodiscard]] int ring(const std::string& ring_case);
// Without arguments: the game if there is one and a display, else the shipped demonstration's score.
[[nodiscard]] int play_or_demonstrate();

// Where the shipped levels are.
[[nodiscard]] std::string levels_folder();

}  // namespace graftwright
