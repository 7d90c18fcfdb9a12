#include "app/commands.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <utility>

#include "app/logbook_command.h"
#include "app/play.h"
#include "app/terminal.h"
#include "base/plain_text.h"
#include "base/whole_file.h"
#include "files/reader.h"
#include "report/report_html.h"
#include "report/single_picture.h"
#include "score/drill.h"
#include "score/scorecard_json.h"
#include "view/kit/display.h"

namespace graftwright {

std::string levels_folder() {
    // Read once by a single thread, before any other starts.
    const char* const given = std::getenv("GRAFTWRIGHT_LEVELS");  // NOLINT(concurrency-mt-unsafe)
    return given != nullptr && *given != '\0' ? given : GRAFTWRIGHT_LEVELS_DIR;
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
        for (const std::string& input : {attempts.front(), scenario, LogbookPlace::of(logbook.value_or("")).path()}) {
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
    if (!report.empty()) write_whole(report, report_html(what));
    if (!svg.empty()) write_whole(svg, picture_svg(what, kind));
    if (!png.empty()) write_whole(png, picture_png(what, kind, width_px));
}

void ScoreCommand::show(const AttemptInScenario& input, const Scorecard& card,
                        const std::optional<DrillVerdict>& drill) const {
    if (json) {
        print_data(scorecard_json(input.scenario, card) + "\n");
        // The line stays what it is; the reasons for the marks go where progress goes.
        if (explain) say(scorecard_explanation(card));
    } else {
        print(scorecard_table(input.scenario, input.attempt, card));
        if (drill) print("\n" + verdict_text(*drill));
        if (explain) print("\n" + scorecard_explanation(card));
    }
    std::fflush(stdout);  // out, whatever comes after it
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
            code = std::max(code, kInputFault);
            continue;
        }
        const AttemptInScenario& input = read.value();
        const ScenarioModel model(input.scenario);
        ScoreOptions options;
        options.shares = !no_shares;
        options.progress = progress_on_terminal("solving closure");
        const Scorecard card = score_attempt(model, input.attempt, options);
        std::optional<DrillVerdict> drill;
        if (input.scenario.kind != ScenarioKind::closure && (!json || book)) drill = judge_drill(model, input.attempt);
        show(input, card, drill);
        if (!json && &path != &attempts.back()) print("\n");
        // The results come first: neither a disk nor a logbook that won't costs them, only the exit code.
        code = std::max(code, tried([&] {
                            write_files(input, card);
                            return kDone;
                        }));
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
    print_data(ring_json(solve_ring(read.value())) + "\n");
    return kDone;
}

int play_or_demonstrate() {
    const std::string no_display = display_fault();
    if (no_display.empty()) return PlayCommand{}.run();
    const std::string demonstration = levels_folder() + "/attempts/even_sixteen.json";
    say("There is no display here (" + one_line(no_display) +
        "), so no game; scoring the shipped demonstration attempt,\n" + demonstration +
        "\n(graftwright --help lists the commands)\n\n");
    ScoreCommand score;
    score.attempts = {demonstration};
    return score.run();
}

}  // namespace graftwright
