// The program: commands in, exit codes out. 0 done, 1 the input is at fault, 2 wrong usage, 3 the
// machine is at fault. Results go to standard output and nothing else does.
#include <algorithm>
#include <csignal>
#include <cstdio>
#include <exception>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>

#include "app/commands.h"
#include "app/did_you_mean.h"
#include "app/logbook_command.h"
#include "app/play.h"
#include "app/study_command.h"
#include "app/terminal.h"
#include "base/plain_text.h"
#include "logbook/place.h"
#include "report/single_picture.h"

namespace graftwright {
namespace {

// A logbook's URL may hold a password, and what is wrong with the arguments is told by repeating them.
std::string without_urls(std::string words, int argc, char** argv) {
    for (int i = 1; i < argc; ++i) {
        const std::string whole = argv[i], value = whole.substr(whole.find('=') + 1);  // "--option=value"
        for (const std::string& said : {whole, value}) {
            const LogbookPlace place = LogbookPlace::of(said);
            if (said.empty() || (!place.server() && place.fault().empty())) continue;
            for (std::size_t at = words.find(said); at != std::string::npos; at = words.find(said, at))
                words.replace(at, said.size(), "…");
        }
    }
    return words;
}

// Everywhere else than behind --logbook a URL would be taken for a file, and repeated where there is none.
bool password_is_elsewhere(int argc, char** argv, const std::vector<std::string>& where_it_may_be) {
    return std::any_of(argv + 1, argv + argc, [&](const std::string& argument) {
        const std::string value = argument.starts_with("--") ? argument.substr(argument.find('=') + 1) : argument;
        return may_hold_password(value) &&
               std::find(where_it_may_be.begin(), where_it_may_be.end(), value) == where_it_may_be.end();
    });
}

CLI::App* add_play(CLI::App& app, PlayCommand& play) {
    CLI::App* command = app.add_subcommand("play", "the game: place, drive, tie and test sutures by hand");
    command->add_option("SCENARIO", play.scenario, "level to open, by id or file");
    command->add_option("--levels", play.levels, "folder of levels instead of the shipped one");
    command->add_option("--hand", play.hand, "a scripted hand plays (timed input events)");
    command->add_option("--save", play.save, "where the finished attempt is written");
    command->add_option("--logbook", play.logbook, "finished attempts are entered here, instead of in your data folder")
        ->type_name("FILE|URL");
    command->add_option("--frames", play.frames, "draw so many frames, print their times, leave")
        ->check(CLI::Range(1, 1000000));
    command->add_flag("--no-window", play.no_window, "the scripted hand plays without a window");
    return command;
}

CLI::App* add_score(CLI::App& app, ScoreCommand& score) {
    CLI::App* command = app.add_subcommand("score", "scores attempts: astigmatism, leak, whose fault it is");
    command->add_option("ATTEMPT", score.attempts, "attempt files; - is standard input")->required();
    command->add_option("--scenario", score.scenario, "scenario file, instead of the one the attempt names");
    command->add_flag("--json", score.json, "one JSON object a line instead of the table");
    command->add_flag("--no-shares", score.no_shares, "do not re-solve once per bite");
    command->add_flag("--explain", score.explain, "how each mark comes about");
    command->add_option("--report", score.report, "writes the report to read and print, one HTML file")
        ->type_name("OUT.html");
    command->add_option("--svg", score.svg, "writes one picture for a slide")->type_name("OUT.svg");
    command->add_option("--png", score.png, "the same as PNG")->type_name("OUT.png");
    std::vector<std::string> pictures;
    for (const PictureName& one : kPictureNames) pictures.emplace_back(one.name);
    command->add_option("--picture", score.picture, "which one: the overview, or one of its parts")
        ->check(CLI::IsMember(pictures));
    command->add_option("--width", score.width_px, "of the PNG, in pixels")->check(CLI::Range(200, 8000));
    command->add_option("--logbook", score.logbook, "adds each scored attempt to this logbook")->type_name("FILE|URL");
    return command;
}

CLI::App* add_study(CLI::App& app, StudyCommand& study) {
    CLI::App* command = app.add_subcommand("study", "many simulated hands at one level: CSV");
    command->add_option("SCENARIO", study.scenario, "level, by id or file")->required();
    command->add_option("--n", study.trials, "how many hands")->required()->check(CLI::Range(1, 1000000));
    command->add_option("--seed", study.seed, "of the random numbers (1)");
    command->add_option("--hand", study.hand, "whose (expert)")->check(CLI::IsMember({"expert", "careless"}));
    command->add_option("--jobs", study.jobs, "threads (as many as cores); no result depends on it")
        ->check(CLI::Range(1, 1024));
    command->add_option("--shard", study.shard, "part I of K, as I/K, I from 1");
    command->add_flag("--shares", study.shares, "re-solve once per bite and name the worst one");
    return command;
}

int run(int argc, char** argv) {
    if (argc <= 1) return play_or_demonstrate();
    CLI::App app{std::string("Graftwright: learn to close a corneal graft.\n") + kCaution, "graftwright"};
    app.require_subcommand(1);
    app.set_version_flag("--version", "graftwright " GRAFTWRIGHT_VERSION);
    app.set_help_all_flag("--help-all", "help of all commands");

    PlayCommand play;
    ScoreCommand score;
    CLI::App *play_app = add_play(app, play), *score_app = add_score(app, score);
    LogbookCommand logbook;
    CLI::App* logbook_app = logbook.add_to(app);

    std::vector<std::string> files;
    CLI::App* check_app = app.add_subcommand("check", "validates scenario, attempt and ring files");
    check_app->add_option("FILE", files, "files; - is standard input")->required();
    std::string ring_case;
    CLI::App* ring_app = app.add_subcommand("ring", "solves a verification case with prescribed tensions");
    ring_app->add_option("CASE", ring_case, "ring case file; - is standard input")->required();
    StudyCommand study;
    CLI::App* study_app = add_study(app, study);

    const std::vector<std::string> words(argv + 1, argv + argc), commands = command_names(app);
    const std::optional<std::string> meant = meant_by(app, words);
    if (!words[0].starts_with('-') && std::find(commands.begin(), commands.end(), words[0]) == commands.end()) {
        say("graftwright: there is no command \"" + one_line(without_urls(words[0], argc, argv)) + "\"; " +
            (meant ? "did you mean " + *meant + "?" : "--help lists them") + "\n");
        return kWrongUsage;
    }
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        std::ostringstream out, err;
        const int code = app.exit(error, out, err);
        print(out.str());
        say(without_urls(err.str(), argc, argv));
        // Help asked for is a result; anything else is wrong usage.
        if (code == 0) return kDone;
        if (meant) say("Did you mean " + *meant + "?\n");
        return kWrongUsage;
    }
    std::vector<std::string> logbooks = logbook.sources;
    logbooks.insert(logbooks.end(), {logbook.place, logbook.trainee, play.logbook, score.logbook.value_or("")});
    if (password_is_elsewhere(argc, argv, logbooks)) {
        say("graftwright: a logbook's URL stands behind --logbook, and a file is no URL\n");
        return kWrongUsage;
    }
    if (*play_app) return play.run();
    if (*score_app) {
        if (const std::string fault = score.usage_fault(); !fault.empty()) {
            say("graftwright: " + one_line(fault) + "\n");
            return kWrongUsage;
        }
        return score.run();
    }
    if (*logbook_app) return logbook.run();
    if (*check_app) return check(files);
    if (*study_app) return study.run();
    return ring(ring_case);
}

}  // namespace
}  // namespace graftwright

int main(int argc, char** argv) {
    // A file that would grow beyond its limit (ulimit -f) is a failed write like a full disk, not a sudden end.
    std::signal(SIGXFSZ, SIG_IGN);
    try {
        const int code = graftwright::run(argc, argv);
        if (std::fflush(stdout) != 0 || std::ferror(stdout) != 0) {
            graftwright::say("graftwright: the result could not be written\n");
            return graftwright::kMachineFault;
        }
        return code;
    } catch (const std::exception& error) {
        return graftwright::tell_machine_fault(error);
    }
}
