// `logbook list|curve|export|merge`, and the logbook that `score --logbook` writes to.
//
// The only place that asks the environment where the user's data folder is and the clock what time it is.
#pragma once

#include <exception>
#include <optional>
#include <string>
#include <vector>

#include "app/commands.h"
#include "files/reader.h"
#include "logbook/logbook.h"
#include "score/scorecard.h"

namespace CLI {
class App;
}

namespace graftwright {

struct LogbookCommand {
    std::string place;  // file or URL; "": the default one in the user's data folder
    bool anonymous = false;
    std::string trainee, scenario;  // "": all
    std::string format, out;        // of export; "": by the file's ending, or CSV on standard output
    std::vector<std::string> sources;

    // Adds `logbook` and its own commands to the program's.
    CLI::App* add_to(CLI::App& app);
    [[nodiscard]] int run() const;

  private:
    [[nodiscard]] int list(Logbook& logbook) const;
    [[nodiscard]] int curve(Logbook& logbook) const;
    [[nodiscard]] int write_export(Logbook& logbook) const;
    [[nodiscard]] int merge(Logbook& logbook) const;
    [[nodiscard]] LogbookSelection selection(Logbook& logbook) const;

    // Which of the four was asked for.
    CLI::App *list_ = nullptr, *curve_ = nullptr, *export_ = nullptr, *merge_ = nullptr;
};

// The logbook in the user's data folder, "" where the environment names none.
[[nodiscard]] std::string users_logbook();

// The logbook that scored attempts go to. Its troubles are told on standard error and cost no result: a machine
// that won't is told once, and the attempts go in another time.
class ScoringLogbook {
  public:
    explicit ScoringLogbook(const std::string& place);
    // The worst so far, for the end of the program: kDone, kInputFault, or kMachineFault.
    [[nodiscard]] int code() const { return code_; }
    // There is no sense in going on: what was named is no place of a logbook.
    [[nodiscard]] bool refused() const { return refused_; }
    // Adds one; an attempt that is there already is told.
    void enter(const AttemptInScenario& input, const Scorecard& card, std::optional<bool> drill_passed);

  private:
    void give_up(const std::exception& why);

    std::optional<Logbook> logbook_;
    bool refused_ = false;
    int code_ = kDone;
};

}  // namespace graftwright
