#include "app/commands.h"

#include <cstdio>
#include <cstdlib>
#include <unistd.h>

#include "files/reader.h"
#include "score/drill.h"
#include "score/scorecard_json.h"

namespace graftwright {
namespace {

void tell(const Faults& faults) {
    for (const Fault& fault : faults) std::fprintf(stderr, "%s\n", fault.text().c_str());
}

void print(const std::string& text) { std::fputs(text.c_str(), stdout); }

// "solving 3 of 18" on a terminal, rewritten in place.
std::function<void(std::size_t, std::size_t)> progress_on_terminal() {
    if (isatty(STDERR_FILENO) == 0) return {};
    return [](std::size_t done, std::size_t all) {
        std::fprintf(stderr, "\rsolving closure %zu of %zu%s", done, all, done == all ? "\r\033[K" : "");
        std::fflush(stderr);
    };
}

}  // namespace

std::string levels_folder() {
    // Read once by a single thread, before any other starts.
    const char* const given = std::getenv("GRAFTWRIGHT_LEVELS");  // NOLINT(concurrency-mt-unsafe)
    return given != nullptr ? given : GRAFTWRIGHT_LEVELS_DIR;
}

int ScoreCommand::run() const {
    int code = kDone;
    for (const std::string& path : attempts) {
        const Result<AttemptInScenario> read = read_attempt_file(path, scenario, levels_folder());
        if (!read.ok()) {
            tell(read.faults());
            code = kInputFault;
            continue;
        }
        const AttemptInScenario& input = read.value();
        const ScenarioModel model(input.scenario);
        ScoreOptions options;
        options.shares = !no_shares;
        options.progress = progress_on_terminal();
        const Scorecard card = score_attempt(model, input.attempt, options);
        if (json) {
            print(scorecard_json(input.scenario, card) + "\n");
            // The line stays what it is; the reasons for the marks go where progress goes.
            if (explain) std::fputs(scorecard_explanation(card).c_str(), stderr);
            continue;
        }
        print(scorecard_table(input.scenario, input.attempt, card));
        if (input.scenario.kind != ScenarioKind::closure)
            print("\n" + verdict_text(judge_drill(model, input.attempt)));
        if (explain) print("\n" + scorecard_explanation(card));
        if (&path != &attempts.back()) print("\n");
    }
    return code;
}

int check(const std::vector<std::string>& files) {
    int code = kDone;
    for (const std::string& path : files) {
        const Faults faults = check_file(path, levels_folder());
        tell(faults);
        if (!faults.empty()) code = kInputFault;
    }
    return code;
}

int ring(const std::string& ring_case) {
    const Result<std::string> text = read_text_file(ring_case);
    if (!text.ok()) {
        tell(text.faults());
        return kInputFault;
    }
    const Result<RingCase> read = read_ring_case(text.value(), ring_case == "-" ? "<stdin>" : ring_case);
    if (!read.ok()) {
        tell(read.faults());
        return kInputFault;
    }
    print(ring_json(solve_ring(read.value())) + "\n");
    return kDone;
}

int play_or_demonstrate() {
    const std::string demonstration = levels_folder() + "/attempts/even_sixteen.json";
    std::fprintf(stderr,
                 "The game is not part of this version yet; scoring the shipped demonstration attempt,\n%s\n"
                 "(graftwright --help lists the commands)\n\n",
                 demonstration.c_str());
    ScoreCommand score;
    score.attempts = {demonstration};
    return score.run();
}

}  // namespace graftwright
