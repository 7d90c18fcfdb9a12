// A logbook that may only be read is read, and refuses to be written with a sentence.
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <map>
#include <set>

#include <soci/soci.h>

#include "../scenes/as_nobody.h"
#include "backends.h"
#include "logbook/database.h"
#include "made_entries.h"
#include "old_logbook.h"

using namespace graftwright;
using namespace graftwright::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

// A folder that anybody may enter and, once closed, nobody but root may write to.
struct Shelf {
    TemporaryFolder folder;
    std::string path = folder.file("log book#1.sqlite");
    Shelf() { fs::permissions(folder.file(""), fs::perms(0755)); }
    ~Shelf() { fs::permissions(folder.file(""), fs::perms(0755)); }
    Shelf(const Shelf&) = delete;
    Shelf& operator=(const Shelf&) = delete;
    void close() const {
        for (const auto& file : fs::directory_iterator(folder.file(""))) fs::permissions(file, fs::perms(0444));
        fs::permissions(folder.file(""), fs::perms(0555));
    }
    [[nodiscard]] std::map<std::string, std::string> contents() const {
        std::map<std::string, std::string> all;
        for (const auto& file : fs::directory_iterator(folder.file(""))) {
            std::ifstream in(file.path(), std::ios::binary);
            all[file.path().filename().string()] = std::string(std::istreambuf_iterator<char>(in), {});
        }
        return all;
    }
};

// A folder for temporary files of this test alone: others run beside it, and leave theirs while they run.
struct OwnTemporaries {
    TemporaryFolder folder;
    const std::string before = fs::temp_directory_path();
    OwnTemporaries() {
        fs::permissions(folder.file(""), fs::perms(0777));
        setenv("TMPDIR", folder.file("").c_str(), 1);
    }
    ~OwnTemporaries() { setenv("TMPDIR", before.c_str(), 1); }
    OwnTemporaries(const OwnTemporaries&) = delete;
    OwnTemporaries& operator=(const OwnTemporaries&) = delete;
};

// What is left in the folder for temporary files.
std::set<std::string> left_behind() {
    std::set<std::string> all;
    for (const auto& one : fs::directory_iterator(fs::temp_directory_path()))
        if (one.path().filename().string().starts_with("graftwright-") &&
            !one.path().filename().string().starts_with("graftwright-test-"))
            all.insert(one.path().string());
    return all;
}

std::string refusal(Logbook& logbook, const Entry& entry) {
    try {
        (void)logbook.add(entry);
    } catch (const std::exception& error) {
        return error.what();
    }
    return "";
}

// Everything that reads reads, nothing that writes does.
bool is_read_only_with(const std::string& path, std::size_t attempts) {
    Logbook logbook = opened(LogbookPlace::of(path));
    const bool read = all_entries(logbook).size() == attempts &&
                      static_cast<std::size_t>(logbook.count()) == attempts && logbook.group_summary(true).anonymous &&
                      logbook.pseudonym_of("Odo").size() > 8;
    const std::string refused = refusal(logbook, made_entry(900));
    if (!read || refused != "logbook " + path + ": the logbook may only be read, not written")
        throw std::runtime_error("read " + std::to_string(read) + ", refused: " + refused);
    return true;
}

}  // namespace

TEST_CASE("SQLite: a logbook in a folder that may only be read is read, and nothing is left anywhere",
          "[logbook][sqlite]") {
    const Shelf shelf;
    {
        Logbook logbook = opened(LogbookPlace::of(shelf.path));
        for (int n = 0; n < 30; ++n) REQUIRE(logbook.add(made_entry(n)));
    }
    shelf.close();
    const auto before = shelf.contents();
    const OwnTemporaries temporaries;
    const std::set<std::string> others = left_behind();
    REQUIRE(before.size() == 1);
    CHECK(holds_for_nobody([&] { return is_read_only_with(shelf.path, 30); }));
    CHECK(shelf.contents() == before);
    CHECK(left_behind() == others);
}

TEST_CASE("SQLite: what a program that died has in its log is read with the rest", "[logbook][sqlite]") {
    const Shelf died;
    {
        const Shelf at_work;
        Logbook logbook = opened(LogbookPlace::of(at_work.path));
        for (int n = 0; n < 30; ++n) REQUIRE(logbook.add(made_entry(n)));
        for (const char* part : {"", "-wal"}) fs::copy_file(at_work.path + part, died.path + part);
    }
    REQUIRE(fs::file_size(died.path + "-wal") > 0);
    died.close();
    const auto before = died.contents();
    const OwnTemporaries temporaries;
    const std::set<std::string> others = left_behind();
    CHECK(holds_for_nobody([&] { return is_read_only_with(died.path, 30); }));
    CHECK(died.contents() == before);
    CHECK(left_behind() == others);
}

TEST_CASE("SQLite: a logbook that another writes to all the time is read whole each time, and never less of it",
          "[logbook][sqlite]") {
    const Shelf shelf;
    { (void)opened(LogbookPlace::of(shelf.path)); }
    int ready[2];
    REQUIRE(pipe(ready) == 0);
    const pid_t writer = fork();
    if (writer == 0) {
        Logbook logbook = opened(LogbookPlace::of(shelf.path));
        for (int n = 0;; ++n) {
            if (!logbook.add(made_entry(n)) || (n == 0 && write(ready[1], "!", 1) != 1)) _exit(1);
        }
    }
    char first = 0;
    REQUIRE(read(ready[0], &first, 1) == 1);
    shelf.close();
    CHECK(holds_for_nobody([&] {
        // Until the log has been begun anew several times.
        std::size_t most = 0;
        for (int times = 0; times < 20 || (most < 600 && times < 2000); ++times) {
            Logbook logbook = opened(LogbookPlace::of(shelf.path));
            const std::vector<Entry> entries = all_entries(logbook);
            if (entries.size() < most) throw std::runtime_error("attempts went missing");
            for (const Entry& entry : entries)
                if (entry.per_bite.size() != 16) throw std::runtime_error("a part of an attempt");
            most = entries.size();
        }
        return true;
    }));
    kill(writer, SIGKILL);
    waitpid(writer, nullptr, 0);
    for (const int end : ready) close(end);
}

TEST_CASE("SQLite: a logbook of an older version that may only be read is read and stays old", "[logbook][sqlite]") {
    for (int version = 1; version < kLogbookVersion; ++version) {
        INFO("version " << version);
        const Shelf shelf;
        make_old(LogbookPlace::of(shelf.path), version);
        shelf.close();
        const auto before = shelf.contents();
        CHECK(holds_for_nobody([&] { return is_read_only_with(shelf.path, 1); }));
        CHECK(shelf.contents() == before);
    }
}

TEST_CASE("SQLite: a file that may only be read, in a folder that may be written, gets nothing beside it",
          "[logbook][sqlite]") {
    const Shelf shelf;
    { REQUIRE(opened(LogbookPlace::of(shelf.path)).add(made_entry(1))); }
    shelf.close();
    fs::permissions(shelf.folder.file(""), fs::perms(0777));
    const auto before = shelf.contents();
    CHECK(holds_for_nobody([&] { return is_read_only_with(shelf.path, 1); }));
    CHECK(shelf.contents() == before);
}

TEST_CASE("SQLite: a read-only logbook is merged from, and not into", "[logbook][sqlite]") {
    const Shelf shelf;
    { REQUIRE(opened(LogbookPlace::of(shelf.path)).add(made_entry(1))); }
    shelf.close();
    CHECK(holds_for_nobody([&] {
        const TemporaryFolder own;
        Logbook unit = opened(LogbookPlace::of(own.file("unit.sqlite"))), there = opened(LogbookPlace::of(shelf.path));
        return unit.merge(there) == 1 && unit.count() == 1 && [&] {
            try {
                (void)there.merge(unit);
            } catch (const std::runtime_error&) {
                return true;
            }
            return false;
        }();
    }));
}

TEST_CASE("SQLite: what is no logbook, or damaged, and may only be read is said to be so", "[logbook][sqlite]") {
    const Shelf shelf;
    const auto fault_is = [&](const std::string& words) {
        return holds_for_nobody([&] {
            for (const bool fresh : {false, true}) {
                LogbookOptions options;
                options.start_fresh_if_damaged = fresh;
                const Result<Logbook> logbook = Logbook::open(LogbookPlace::of(shelf.path), options);
                if (logbook.ok()) throw std::runtime_error("opened");
                if (logbook.faults().front().text().find(words) == std::string::npos)
                    throw std::runtime_error(logbook.faults().front().text());
            }
            return true;
        });
    };
    std::ofstream(shelf.path) << std::string(9000, 'x');
    shelf.close();
    CHECK(fault_is("damaged"));
    CHECK(shelf.contents().size() == 1);
    fs::remove(shelf.path);
    {
        Database other(LogbookPlace::of(shelf.path));
        (void)other.write([](soci::session& session) {
            session << "CREATE TABLE recipes (title TEXT)";
            return true;
        });
    }
    shelf.close();
    CHECK(fault_is("another program's database"));
}
