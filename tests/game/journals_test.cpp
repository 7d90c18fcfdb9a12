// No attempt is lost to another one, to another window, or to a file that can't be read.
#include "game/journals.h"

#include <chrono>
#include <filesystem>

#include <catch2/catch.hpp>

#include "../scenes/temporary_folder.h"
#include "files/reader.h"
#include "no_locks.h"

namespace graftwright {
namespace {

namespace fs = std::filesystem;
using Catch::Matchers::Contains;
using test::NoLocks;
using test::TemporaryFolder;

std::string data(const std::string& name) {
    return read_text_file(std::string(GRAFTWRIGHT_SOURCE_DIR) + "/tests/data/" + name).value();
}

JournalHead head_of(const std::string& scenario) {
    JournalHead head;
    head.scenario = scenario;
    head.trainee = "heron";
    return head;
}

// An attempt that is being played: its file is held as long as this lives.
JournalWriter begun(const Journals& journals, const std::string& scenario, int ticks = 240) {
    JournalWriter writer(journals.fresh(), head_of(scenario));
    if (ticks > 0) writer.beat(ticks);
    return writer;
}

void played_last(const std::string& path, int hours_ago) {
    fs::last_write_time(path, fs::file_time_type::clock::now() - std::chrono::hours(hours_ago));
}

std::vector<std::string> offered(const Journals& journals) {
    std::vector<std::string> scenarios;
    for (const InterruptedAttempt& one : journals.look().interrupted) scenarios.push_back(one.journal.head.scenario);
    return scenarios;
}

TEST_CASE("journals: another level begun while an attempt is interrupted costs nothing, and both are offered",
          "[game][journal][quick]") {
    const TemporaryFolder folder;
    const Journals journals(folder.file(""));
    { (void)begun(journals, "first"); }
    const std::string first = read_text_file(folder.file("journal.jsonl")).value();
    { (void)begun(journals, "second"); }
    CHECK(read_text_file(folder.file("journal.jsonl")).value() == first);
    played_last(folder.file("journal.jsonl"), 2);
    played_last(folder.file("journal-2.jsonl"), 1);
    CHECK(offered(journals) == std::vector<std::string>{"second", "first"});
    played_last(folder.file("journal-2.jsonl"), 3);
    CHECK(offered(journals) == std::vector<std::string>{"first", "second"});
}

TEST_CASE("journals: two windows keep one each; what another window plays is offered when it has gone",
          "[game][journal][quick]") {
    const TemporaryFolder folder;
    const Journals journals(folder.file(""));
    {
        JournalWriter first = begun(journals, "first");
        CHECK(offered(journals).empty());
        JournalWriter second = begun(journals, "second");
        first.beat(480);
        CHECK(offered(journals).empty());
        CHECK(journals.set_aside(folder.file("journal.jsonl")) == "That attempt is being played in another window.");
    }
    CHECK(offered(journals).size() == 2);
    CHECK(read_journal(folder.file("journal.jsonl")).value().last_tick == 480);
    CHECK(read_journal(folder.file("journal-2.jsonl")).value().last_tick == 240);
}

TEST_CASE("journals: an attempt that has ended, or hardly begun, leaves its name to the next",
          "[game][journal][quick]") {
    const TemporaryFolder folder;
    const Journals journals(folder.file(""));
    begun(journals, "first").end(300);
    CHECK(offered(journals).empty());
    { (void)begun(journals, "second", 0); }
    CHECK(offered(journals).empty());
    { (void)begun(journals, "third"); }
    CHECK(offered(journals) == std::vector<std::string>{"third"});
    CHECK_FALSE(fs::exists(folder.file("journal-2.jsonl")));
}

TEST_CASE("journals: one that is set aside is kept and not offered again", "[game][journal][quick]") {
    const TemporaryFolder folder;
    const Journals journals(folder.file(""));
    { (void)begun(journals, "first"); }
    const std::string text = read_text_file(folder.file("journal.jsonl")).value();
    CHECK(journals.set_aside(folder.file("journal.jsonl")).empty());
    CHECK(offered(journals).empty());
    CHECK(read_text_file(folder.file("journal.jsonl.aside-1")).value() == text);
    CHECK_THAT(journals.set_aside(folder.file("journal.jsonl")), Contains("could not be moved aside"));
}

TEST_CASE("journals: a damaged one, or one of another version, is put aside whole, with a sentence",
          "[game][journal][quick]") {
    const std::string head = R"("format":"graftwright-journal","version":)";
    for (const auto& [text, why] : std::vector<std::pair<std::string, std::string>>{
             {data("journal_version_string.jsonl"), "can't be understood"},
             {"{" + head + "2}\n{\"tick\":240}\n", "another version"},
             {"{" + head + "0}\n{\"tick\":240}\n", "another version"},
             {"{" + head + "1}\n{\"tick\":1e300}\n{\"tick\":-4}\n", "can't be understood"},
             {std::string(5000, '\0'), "can't be understood"}}) {
        CAPTURE(text.substr(0, 80));
        const TemporaryFolder folder;
        folder.write("journal.jsonl", text);
        const Journals journals(folder.file(""));
        const JournalsFound found = journals.look();
        CHECK(found.interrupted.empty());
        REQUIRE(found.words.size() == 1);
        CHECK_THAT(found.words.front(), Contains(why) && Contains("kept as") && Contains("journal.jsonl.aside-1"));
        CHECK(read_text_file(folder.file("journal.jsonl.aside-1")).value() == text);
        CHECK(journals.look().words.empty());
    }
}

TEST_CASE("journals: a folder in a journal's place is put aside too", "[game][journal][quick]") {
    const TemporaryFolder folder;
    fs::create_directory(folder.file("journal.jsonl"));
    const Journals journals(folder.file(""));
    CHECK(journals.look().words.size() == 1);
    CHECK(fs::is_directory(folder.file("journal.jsonl.aside-1")));
    CHECK(journals.fresh()->held());
}

TEST_CASE("journals: without locks no window takes another's name", "[game][journal][quick]") {
    const TemporaryFolder folder;
    const NoLocks no_locks;
    const Journals journals(folder.file(""));
    {
        JournalWriter first = begun(journals, "first", 0);  // has only just begun
        JournalWriter second = begun(journals, "second");
        first.beat(240);
        second.end(480);
    }
    { (void)begun(journals, "third"); }
    CHECK(read_journal(folder.file("journal.jsonl")).value().head.scenario == "first");
    CHECK(read_journal(folder.file("journal-2.jsonl")).value().head.scenario == "third");
    CHECK(offered(journals).size() == 2);
}

TEST_CASE("journals: where nothing can be written a new one is not held, and nothing is thrown",
          "[game][journal][quick]") {
    const Journals journals("/nowhere");
    CHECK(journals.look().interrupted.empty());
    CHECK_FALSE(journals.fresh()->held());
}

}  // namespace
}  // namespace graftwright
