#include "app/commands.h"

#include "app/play.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <unistd.h>
#include <utility>

#include "app/logbook_command.h"
#include "app/output_file.h"
#include "files/reader.h"
#include "report/report_html.h"
#include "report/single_picture.h"
#include "score/drill.h"
#include "score/scorecard_json.h"
#include "view/play_window.h"

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

std::string ScoreCommand::usage_fault() const {
    if (!svg.empty() && !png.empty()) return "--svg and --png exclude each other: one picture at a time";
    if (!picture.empty() && svg.empty() && png.empty())
        return "--picture says what --svg or --png shows; give one of them";
    if (width_px != 0 && png.empty()) return "--width is the PNG's; give --png too";
    for (const auto& [option, out] : {std::pair{"--report", &report}, {"--svg", &svg}, {"--png", &png}}) {
        if (out->empty()) continue;
        if (*out == "-") return std::string(option) + " writes a file, not standard output: give its name";
        if (attempts.size() > 1) {
            return std::string(option) + " writes one file for one attempt, and " + std::to_string(attempts.size()) +
                   " attempts were given: score them one by one";
        }
        for (const std::string& input :
             {attempts.front(), scenario, LogbookPlace::of(logbook.value_or("")).path()}) {
            std::error_code ignored;
            if (std::filesystem::equivalent(*out, input, ignored)) {
                return std::string(option) + " would write over " + input + ", which is in use";
            }
        }
    }
    return "";
}

void ScoreCommand::write_files(const AttemptInScenario& input, const Scorecard& card) const {
    if (report.empty() && svg.empty() && png.empty()) return;
    const Case what{input.scenario, input.attempt, card, find_experts(input.scenario, levels_folder())};
    const PictureKind kind = picture_kind(picture).value_or(PictureKind::overview);
    if (!report.empty()) write_file(report, report_html(what));
    if (!svg.empty()) write_file(svg, picture_svg(what, kind));
    if (!png.empty()) write_file(png, picture_png(what, kind, width_px));
}

void ScoreCommand::show(const AttemptInScenario& input, const Scorecard& card,
                        const std::optional<DrillVerdict>& drill) const {
    if (json) {
        print(scorecard_json(input.scenario, card) + "\n");
        // The line stays what it is; the reasons for the marks go where progress goes.
        if (explain) std::fputs(scorecard_explanation(card).c_str(), stderr);
        return;
    }
    print(scorecard_table(input.scenario, input.attempt, card));
    if (drill) print("\n" + verdict_text(*drill));
    if (explain) print("\n" + scorecard_explanation(card));
}

int ScoreCommand::run() const {
    int code = kDone;
    std::optional<ScoringLogbook> book;
    if (logbook) {
        book.emplace(*logbook);
        if (book->refused()) return kInputFault;
    }
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
        write_files(input, card);
        std::optional<DrillVerdict> drill;
        if (input.scenario.kind != ScenarioKind::closure && (!json || book)) drill = judge_drill(model, input.attempt);
        show(input, card, drill);
        if (!json && &path != &attempts.back()) print("\n");
        // After the result is out: a logbook that won't must not cost it.
        if (book) book->enter(input, card, drill ? std::optional(drill->passed) : std::nullopt);
    }
    return std::max(code, book ? book->code() : kDone);
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
    if (display_available()) return PlayCommand{}.run();
    const std::string demonstration = levels_folder() + "/attempts/even_sixteen.json";
    std::fprintf(stderr,
                 "There is no display here (DISPLAY is not set), so no game; scoring the shipped demonstration attempt,\n%s\n"
                 "(graftwright --help lists the commands)\n\n",
                 demonstration.c_str());
    ScoreCommand score;
    score.attempts = {demonstration};
    return score.run();
}

}  // namespace graftwright
