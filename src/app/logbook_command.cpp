#include "app/logbook_command.h"

#include <chrono>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <stdexcept>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "app/commands.h"
#include "app/logbook_tables.h"
#include "app/terminal.h"
#include "base/plain_text.h"
#include "base/whole_file.h"
#include "base/words.h"
#include "logbook/export.h"
#include "report/group_page.h"

namespace graftwright {
namespace {

std::string environment(const char* name) {
    // Read once by a single thread, before any other starts.
    const char* const value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe)
    return value != nullptr ? value : "";
}

std::string now_utc() {
    const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
    std::tm utc{};
    gmtime_r(&now, &utc);
    char text[32];
    std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &utc);
    return text;
}

std::optional<Logbook> opened(const std::string& place, const LogbookOptions& options) {
    Result<Logbook> logbook = Logbook::open(LogbookPlace::of(place), options);
    if (logbook.ok()) return logbook.take();
    tell(logbook.faults());
    return std::nullopt;
}

std::string format_of(const std::string& out) {
    const std::string ending = std::filesystem::path(out).extension().string();
    return ending == ".json" || ending == ".html" ? ending.substr(1) : "csv";
}

}  // namespace

std::string users_logbook() { return default_logbook(environment("XDG_DATA_HOME"), environment("HOME")); }

ScoringLogbook::ScoringLogbook(const std::string& place) : refused_(!LogbookPlace::of(place).fault().empty()) {
    try {
        logbook_ = opened(place, {});
        if (!logbook_) code_ = kInputFault;
    } catch (const std::exception& error) {
        give_up(error);
    }
}

void ScoringLogbook::give_up(const std::exception& why) {
    code_ = tell_machine_fault(why);
    logbook_.reset();
}

void ScoringLogbook::enter(const AttemptInScenario& input, const Scorecard& card, std::optional<bool> drill_passed) {
    if (!logbook_) return;
    const Result<Entry> entry = make_entry(input.scenario, input.attempt, input.attempt_text, card,
                                           {GRAFTWRIGHT_VERSION, now_utc()}, drill_passed);
    if (!entry.ok()) {
        tell(entry.faults());
        code_ = kInputFault;
        return;
    }
    try {
        if (!logbook_->add(entry.value()))
            say("logbook: this attempt is in " + one_line(logbook_->place().shown()) + " already\n");
    } catch (const LogbookUnreadable& damage) {
        say(one_line(damage.what()) + "\n");
        code_ = kInputFault;
    } catch (const std::exception& error) {
        give_up(error);
    }
}

CLI::App* LogbookCommand::add_to(CLI::App& app) {
    CLI::App* logbook = app.add_subcommand("logbook", "practice that adds up: lists, learning curves, exports");
    logbook->require_subcommand(1);
    logbook->add_option("--logbook", place, "file or postgresql:// URL, instead of the one in your data folder")
        ->type_name("FILE|URL");
    logbook->add_flag("--anonymous", anonymous, "stable pseudonyms instead of names");
    list_ = logbook->add_subcommand("list", "the attempts, a line each");
    curve_ = logbook->add_subcommand("curve", "each trainee's level, best, and learning curves");
    export_ = logbook->add_subcommand("export", "CSV, JSON, or a page for the group");
    merge_ = logbook->add_subcommand("merge", "adds what other logbooks have, without duplicates");
    for (CLI::App* one : {list_, curve_, export_, merge_}) one->fallthrough();
    for (CLI::App* one : {list_, curve_, export_}) {
        one->add_option("--trainee", trainee, "of this trainee only");
        one->add_option("--scenario", scenario, "of this level only")->type_name("ID");
    }
    export_
        ->add_option("--format", format, "csv: a line an attempt; bites: a line a bite; json; html: the group's page")
        ->check(CLI::IsMember({"csv", "bites", "json", "html"}));
    export_->add_option("--out", out, "file, instead of standard output")->type_name("FILE");
    merge_->add_option("LOGBOOK", sources, "files or URLs to take attempts from")->required();
    return logbook;
}

int LogbookCommand::run() const {
    if (*merge_ && anonymous) {
        say("graftwright: merge keeps names; --anonymous is for list, curve and export\n");
        return kWrongUsage;
    }
    if (*export_ && (format == "html" || (format.empty() && format_of(out) == "html")) &&
        (!trainee.empty() || !scenario.empty())) {
        say("graftwright: the group's page is of the whole logbook, without --trainee or --scenario\n");
        return kWrongUsage;
    }
    const std::string where = place.empty() ? users_logbook() : place;
    if (where.empty()) throw std::runtime_error("neither XDG_DATA_HOME nor HOME says where a logbook could be");
    std::error_code ignored;
    const LogbookPlace named = LogbookPlace::of(where);
    if (std::filesystem::equivalent(out, named.path(), ignored)) {
        say("graftwright: --out would write over the logbook itself, " + one_line(named.shown()) + "\n");
        return kWrongUsage;
    }
    LogbookOptions options;
    // A name mistyped should not make an empty logbook; the default one is made on first use.
    options.create = place.empty() || *merge_;
    try {
        std::optional<Logbook> logbook = opened(where, options);
        if (!logbook) return kInputFault;
        if (*list_) return list(*logbook);
        if (*curve_) return curve(*logbook);
        if (*export_) return write_export(*logbook);
        return merge(*logbook);
    } catch (const LogbookUnreadable& damage) {
        say(one_line(damage.what()) + "\n");
        return kInputFault;
    }
}

LogbookSelection LogbookCommand::selection(Logbook& logbook) const {
    LogbookSelection selected;
    if (!scenario.empty()) selected.scenario = scenario;
    if (trainee.empty()) return selected;
    selected.trainee = trainee;
    // Who has only seen pseudonyms may ask for one.
    if (anonymous)
        for (const std::string& name : logbook.trainees())
            if (logbook.pseudonym_of(name) == trainee) selected.trainee = name;
    return selected;
}

int LogbookCommand::list(Logbook& logbook) const {
    print(std::string(kCaution) + "\n\n" + list_head());
    long long count = 0;
    const LogbookSelection selected = selection(logbook);
    for (const std::string& name : logbook.trainees_to_show(anonymous)) {
        if (selected.trainee && *selected.trainee != name) continue;
        logbook.visit({name, selected.scenario}, Logbook::With::numbers, [&](const Entry& entry) {
            print(list_line(entry, anonymous ? logbook.pseudonym_of(name) : name));
            ++count;
        });
    }
    print(counted(count, "attempt") + "\n");
    return kDone;
}

int LogbookCommand::curve(Logbook& logbook) const {
    const LogbookSelection selected = selection(logbook);
    TraineePageOptions options;
    options.scenario = scenario;
    print(std::string(kCaution) + "\n");
    for (const std::string& name : logbook.trainees_to_show(anonymous)) {
        if (selected.trainee && *selected.trainee != name) continue;
        const TraineePage page = logbook.trainee_page(name, options);
        if (page.attempts_in_all > 0) print("\n" + curve_table(page, anonymous ? logbook.pseudonym_of(name) : name));
    }
    print("\n" + competence_words(options.rates) + "\n");
    return kDone;
}

int LogbookCommand::write_export(Logbook& logbook) const {
    const std::string kind = format.empty() ? format_of(out) : format;
    const LogbookSelection selected = selection(logbook);
    const auto write = [&](const TextSink& sink) {
        if (kind == "html") sink(group_page_html(logbook.group_summary(anonymous)));
        if (kind == "json") export_json(logbook, selected, anonymous, sink);
        if (kind == "bites") export_bites_csv(logbook, selected, anonymous, sink);
        if (kind == "csv") export_csv(logbook, selected, anonymous, sink);
    };
    if (out.empty() || out == "-") {
        write(print_data);
    } else {
        WholeFile file(out);
        write([&](const std::string& piece) { file.add(piece); });
        file.put_in_place();
    }
    return kDone;
}

int LogbookCommand::merge(Logbook& logbook) const {
    LogbookOptions only_open;
    only_open.create = false;
    int code = kDone;
    for (const std::string& source : sources) {
        std::optional<Logbook> other = opened(source, only_open);
        if (!other) {
            code = kInputFault;
            continue;
        }
        const long long has = other->count();
        const auto added = static_cast<long long>(logbook.merge(*other));
        print(fmt::format("{}: {} added, {} there already\n", one_line(other->place().shown()), counted(added, "attempt"),
                          has - added));
    }
    return code;
}

}  // namespace graftwright
