#include "app/play.h"

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <stdexcept>

#include <fmt/format.h>

#include "app/commands.h"
#include "app/logbook_command.h"
#include "app/terminal.h"
#include "base/plain_text.h"
#include "base/whole_file.h"
#include "base/words.h"
#include "files/reader.h"
#include "files/writer.h"
#include "game/game.h"
#include "score/bites_in_order.h"
#include "view/kit/display.h"
#include "view/window/play_window.h"

namespace graftwright {
namespace {

// What a hand played in one game: shown, then saved and entered, neither of which costs the other.
int report(const Game& game, const std::string& save, ScoringLogbook* book) {
    const Attempt attempt = game.attempt();
    const auto& debrief = game.session().debrief();
    const Snapshot shot = game.snapshot();
    if (debrief) {
        print(scorecard_table(*shot.scenario, attempt, debrief->card));
    } else {
        print("The hand stopped before the end: " + counted(bite_count(attempt), "bite") + " tied, nothing scored.\n");
    }
    const int saved = tried([&] {
        if (save.empty()) return kDone;
        write_whole(save, write_attempt(attempt));
        say("the attempt is saved in " + one_line(save) + "\n");
        return kDone;
    });
    if (book == nullptr) return saved;
    if (debrief) {
        const auto passed = debrief->drill ? std::optional(debrief->drill->passed) : std::nullopt;
        book->enter({*shot.scenario, attempt, write_attempt(attempt)}, debrief->card, passed);
    }
    return std::max(saved, book->code());
}

// Where the user's own things are kept, as the desktop's standard has it: it asks to ignore relative paths.
std::string data_folder() {
    const char* data = std::getenv("XDG_DATA_HOME");  // NOLINT(concurrency-mt-unsafe): before any thread
    if (data != nullptr && *data == '/') return std::string(data) + "/graftwright";
    const char* home = std::getenv("HOME");  // NOLINT(concurrency-mt-unsafe): before any thread
    if (home == nullptr || *home == '\0')
        throw std::runtime_error("neither XDG_DATA_HOME nor HOME says where to keep things");
    return std::string(home) + "/.local/share/graftwright";
}

void tell_frames(const FrameReport& report) {
    print(
        fmt::format("frames                    {}\n"
                    "our code, a frame         {:.2f} ms median, {:.2f} ms p99 (draw calls excluded)\n"
                    "whole frame               {:.2f} ms median, {:.0f} frames a second\n"
                    "first frame               {:.2f} s after the start\n"
                    "memory                    {:.0f} MB\n"
                    "drawn by                  {}\n",
                    report.frames, report.own_median_ms, report.own_p99_ms, report.whole_median_ms, report.frames_per_s,
                    report.first_frame_s, report.memory_MB, one_line(report.renderer)));
}

int play_without_window(const Scenario& level, const HandRecord& script, const std::string& save,
                        const std::string& logbook) {
    std::optional<ScoringLogbook> book;
    if (!logbook.empty()) {
        book.emplace(logbook);
        if (book->refused()) return kInputFault;
    }
    const auto model = std::make_shared<const ScenarioModel>(level);
    GameOptions options;
    options.trainee = script.trainee;
    options.started = script.started;
    options.left_handed = script.left_handed;
    options.examiner_view = script.examiner_view;
    Game game(model, make_inline_service(model), options);
    constexpr int kSecondsAfter = 10;
    play_inputs(game, inputs_of(script), kSecondsAfter * kTicksPerSecond, progress_on_terminal("playing second"));
    return report(game, save, book ? &*book : nullptr);
}

Result<HandRecord> read_hand(const std::string& path) {
    const Result<std::string> text = read_text_file(path);
    return text.ok() ? read_hand_record(text.value(), path) : Result<HandRecord>(text.faults());
}

}  // namespace

int PlayCommand::run() const {
    const std::string folder = levels.empty() ? levels_folder() : levels;
    std::optional<HandRecord> script;
    if (!hand.empty()) {
        const Result<HandRecord> read = read_hand(hand);
        if (!read.ok()) {
            tell(read.faults());
            return kInputFault;
        }
        script = read.value();
    }
    if (no_window && !script) {
        say("--no-window plays a scripted hand: give one with --hand FILE\n");
        return kWrongUsage;
    }
    const std::string wanted = !scenario.empty() ? scenario : script ? script->scenario : "";
    std::optional<Scenario> level;
    if (!wanted.empty()) {
        const Result<Scenario> found = read_level(wanted, folder);
        if (!found.ok()) {
            tell(found.faults());
            return kInputFault;
        }
        level = found.value();
    }
    if (const LogbookPlace place = LogbookPlace::of(logbook); !logbook.empty() && !place.fault().empty()) {
        say("--logbook " + one_line(place.shown()) + ": " + place.fault() + "\n");
        return kInputFault;
    }
    if (no_window) return play_without_window(*level, *script, save, logbook);
    if (const std::string no_display = display_fault(); !no_display.empty()) {
        say("graftwright: no display here (" + one_line(no_display) +
            "); a scripted hand plays without one: play --hand FILE --no-window\n");
        return kMachineFault;
    }
    PlayOptions options;
    options.levels = folder;
    options.scenario = level;
    options.scenario_path = wanted.find('/') == std::string::npos ? folder + "/" + wanted + ".json" : wanted;
    options.hand = script;
    options.data = data_folder();
    options.save = save;
    options.logbook = logbook;
    options.program = GRAFTWRIGHT_VERSION;
    options.frames = frames;
    const FrameReport report = play_in_window(options);
    if (frames > 0) tell_frames(report);
    if (!report.logbook_fault.empty())
        say("graftwright: not in the logbook: " + one_line(report.logbook_fault) + "; the attempt's file is kept\n");
    return kDone;
}

}  // namespace graftwright
