// The commands of the program; each returns its exit code.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "files/reader.h"
#include "score/drill.h"
#include "score/scorecard_table.h"

namespace graftwright {

inline constexpr int kDone = 0, kInputFault = 1, kWrongUsage = 2, kMachineFault = 3;

struct ScoreCommand {
    std::vector<std::string> attempts;
    std::string scenario;  // "" : the one the attempt names
    bool json = false, no_shares = false, explain = false;
    std::string report, svg, png;  // files to write; "" : none
    std::string picture;           // what svg and png show; "" : the overview
    int width_px = 0;              // of the PNG; 0: its usual one
    std::optional<std::string> logbook;  // file or URL that scored attempts are added to

    // What the options together cannot mean: a sentence, or "".
    [[nodiscard]] std::string usage_fault() const;
    [[nodiscard]] int run() const;

  private:
    void write_files(const AttemptInScenario& input, const Scorecard& card) const;
    void show(const AttemptInScenario& input, const Scorecard& card, const std::optional<DrillVerdict>& drill) const;
};

[[nodiscard]] int check(const std::vector<std::string>& files);
[[nodiscard]] int ring(const std::string& ring_case);
// Without arguments: the game if there is one and a display, else the shipped demonstration's score.
[[nodiscard]] int play_or_demonstrate();

// Where the shipped levels are.
[[nodiscard]] std::string levels_folder();

}  // namespace graftwright
