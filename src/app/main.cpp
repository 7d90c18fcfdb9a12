// The program: commands in, exit codes out. 0 done, 1 the input is at fault, 2 wrong usage, 3 the
// machine is at fault. Results go to standard output and nothing else does.
#include <algorithm>
#include <csignal>
#include <cstdio>
#include <exception>
#include <sstream>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>

#include "app/commands.h"
#include "app/logbook_command.h"
#include "app/play.h"
#include "app/study_command.h"
#include "app/terminal.h"
#include "base/plain_text.h"
#include "report/single_picture.h"

namespace {

int run(int argc, char** argv) {
    using namespace graftwright;
    if (argc <= 1) return play_or_demonstrate();
    CLI::App app{std::string("Graftwright: learn to close a corneal graft.\n") + kCaution, "graftwright"};
    app.require_subcommand(1);
    app.set_version_flag("--version", "graftwright " GRAFTWRIGHT_VERSION);
    app.set_help_all_flag("--help-all", "help of all commands");

    PlayCommand play;
    CLI::App* play_app = app.add_subcommand("play", "the game: place, drive, tie and test sutures by hand");
    play_app->add_option("SCENARIO", play.scenario, "level to open, by id or file");
    play_app->add_option("--levels", play.levels, "folder of levels instead of the shipped one");
    play_app->add_option("--hand", play.hand, "a scripted hand plays (timed input events)");
    play_app->add_option("--save", play.save, "where the finished attempt is written");
    play_app->add_option("--logbook", play.logbook, "finished attempts are entered here, instead of in your data folder")
        ->type_name("FILE|URL");
    play_app->add_option("--frames", play.frames, "draw so many frames, print their times, leave")
        ->check(CLI::Range(1, 1000000));
    play_app->add_flag("--no-window", play.no_window, "the scripted hand plays without a window");

    ScoreCommand score;
    CLI::App* score_app = app.add_subcommand("score", "scores attempts: astigmatism, leak, whose fault it is");
    score_app->add_option("ATTEMPT", score.attempts, "attempt files; - is standard input")->required();
    score_app->add_option("--scenario", score.scenario, "scenario file, instead of the one the attempt names");
    score_app->add_flag("--json", score.json, "one JSON object a line instead of the table");
    score_app->add_flag("--no-shares", score.no_shares, "do not re-solve once per bite");
    score_app->add_flag("--explain", score.explain, "how each mark comes about");
    score_app->add_option("--report", score.report, "writes the report to read and print, one HTML file")
        ->type_name("OUT.html");
    score_app->add_option("--svg", score.svg, "writes one picture for a slide")->type_name("OUT.svg");
    score_app->add_option("--png", score.png, "the same as PNG")->type_name("OUT.png");
    std::vector<std::string> pictures;
    for (const PictureName& one : kPictureNames) pictures.emplace_back(one.name);
    score_app->add_option("--picture", score.picture, "which one: the overview, or one of its parts")
        ->check(CLI::IsMember(pictures));
    score_app->add_option("--width", score.width_px, "of the PNG, in pixels")->check(CLI::Range(200, 8000));

    score_app->add_option("--logbook", score.logbook, "adds each scored attempt to this logbook")->type_name("FILE|URL");

    LogbookCommand logbook;
    CLI::App* logbook_app = logbook.add_to(app);

    std::vector<std::string> files;
    CLI::App* check_app = app.add_subcommand("check", "validates scenario, attempt and ring files");
    check_app->add_option("FILE", files, "files; - is standard input")->required();

    std::string ring_case;
    CLI::App* ring_app = app.add_subcommand("ring", "solves a verification case with prescribed tensions");
    ring_app->add_option("CASE", ring_case, "ring case file; - is standard input")->required();

    StudyCommand study;
    CLI::App* study_app = app.add_subcommand("study", "many simulated hands at one level: CSV");
    study_app->add_option("SCENARIO", study.scenario, "level, by id or file")->required();
    study_app->add_option("--n", study.trials, "how many hands")->required()->check(CLI::Range(1, 1000000));
    study_app->add_option("--seed", study.seed, "of the random numbers (1)");
    study_app->add_option("--hand", study.hand, "whose (expert)")->check(CLI::IsMember({"expert", "careless"}));
    study_app->add_option("--jobs", study.jobs, "threads (as many as cores); no result depends on it")
        ->check(CLI::Range(1, 1024));
    study_app->add_option("--shard", study.shard, "part I of K, as I/K, I from 1");
    study_app->add_flag("--shares", study.shares, "re-solve once per bite and name the worst one");

    const std::string word = argv[1];
    const std::vector<CLI::App*> commands = app.get_subcommands([](CLI::App*) { return true; });
    const bool known = std::any_of(commands.begin(), commands.end(),
                                   [&](const CLI::App* command) { return command->get_name() == word; });
    if (!word.starts_with('-') && !known) {
        say("graftwright: there is no command \"" + one_line(word) + "\"; --help lists them\n");
        return kWrongUsage;
    }
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        // Help asked for is a result; anything else is wrong usage.
        std::ostringstream help, complaint;
        const int code = app.exit(error, help, complaint) == 0 ? kDone : kWrongUsage;
        print(help.str());
        say(complaint.str());
        return code;
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

int main(int argc, char** argv) {
    // A file that would grow beyond its limit (ulimit -f) is a failed write like a full disk, not a sudden end.
    std::signal(SIGXFSZ, SIG_IGN);
    try {
        const int code = run(argc, argv);
        if (std::fflush(stdout) != 0 || std::ferror(stdout) != 0) {
            graftwright::say("graftwright: the result could not be written\n");
            return graftwright::kMachineFault;
        }
        return code;
    } catch (const std::exception& error) {
        return graftwright::tell_machine_fault(error);
    }
}
