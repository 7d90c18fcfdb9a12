// How a logbook is opened: made on first use, brought up to date, refused, set aside.
#include <fstream>
#include <sstream>

#include <soci/soci.h>

#include "backends.h"
#include "logbook/database.h"
#include "logbook/migrations.h"
#include "made_entries.h"
#include "old_logbook.h"

using namespace graftwright;
using namespace graftwright::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream out;
    out << file.rdbuf();
    return out.str();
}

void write_bytes(const std::string& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary | std::ios::trunc) << bytes;
}

std::string fault_of(const LogbookPlace& place, const LogbookOptions& options = {}) {
    const Result<Logbook> logbook = Logbook::open(place, options);
    return logbook.ok() ? "" : logbook.faults().front().text();
}

// A logbook of forty attempts in a file, closed, without a log beside it.
std::string made_file(const TemporaryFolder& folder) {
    const std::string path = folder.file("logbook.sqlite");
    Logbook logbook = opened(LogbookPlace::of(path));
    for (int n = 0; n < 40; ++n) (void)logbook.add(made_entry(n));
    return path;
}

int copies_in(const TemporaryFolder& folder) {
    int copies = 0;
    for (const auto& file : fs::directory_iterator(folder.file("")))
        if (file.path().filename().string().find(".damaged-") != std::string::npos) ++copies;
    return copies;
}

}  // namespace

ON_EVERY_BACK_END("a logbook of every older version opens and keeps what it has") {
    for (int version = 1; version < kLogbookVersion; ++version) {
        INFO("version " << version);
        const LogbookPlace place = backend.fresh();
        make_old(place, version);
        Logbook logbook = opened(place);
        const std::vector<Entry> entries = all_entries(logbook);
        REQUIRE(entries.size() == 1);
        CHECK(entries[0].trainee == "Odo");
        CHECK(at(entries[0].measures, Metric::total) == 61.5);
        CHECK_FALSE(at(entries[0].measures, Metric::optics));
        CHECK(entries[0].per_bite.at(0).share_D == 0.25);
        CHECK(entries[0].attempt_text == "{}");
        // And it is one of today's now.
        CHECK(logbook.add(made_entry(1)));
        CHECK(logbook.levels_of("Odo").at(0).best_total == 61.5);
        CHECK(logbook.pseudonym_of("Odo").size() == std::string("trainee-").size() + 8);
        CHECK(opened(place).pseudonym_of("Odo") == logbook.pseudonym_of("Odo"));
    }
}

ON_EVERY_BACK_END("a logbook of a newer version is refused clearly and left alone") {
    const LogbookPlace place = backend.fresh();
    { CHECK(opened(place).add(made_entry(1))); }
    const auto set_version = [&](const std::string& version) {
        Database database(place);
        (void)database.write([&](soci::session& session) {
            session << "UPDATE graftwright_meta SET value = :v WHERE name = 'version'", soci::use(version);
            return true;
        });
    };
    set_version("99");
    CHECK_THAT(fault_of(place), Contains("version 99") && Contains("newer Graftwright"));
    set_version(std::to_string(kLogbookVersion));
    CHECK(opened(place).count() == 1);
}

TEST_CASE("SQLite: a damaged logbook is copied aside, refused, and not changed by a bit", "[logbook][sqlite]") {
    const TemporaryFolder folder;
    const std::string path = made_file(folder);
    const std::string good = bytes_of(path);
    REQUIRE(good.size() > 20'000);
    std::string zeroed = good, scrambled = good;
    zeroed.replace(0, 4096, std::string(4096, '\0'));
    for (std::size_t i = 4096; i + 64 < good.size(); i += 512) scrambled.replace(i, 64, std::string(64, '\x5a'));
    for (const std::string& bad : {good.substr(0, good.size() / 2), zeroed, scrambled, std::string(3000, 'x')}) {
        write_bytes(path, bad);
        const int before = copies_in(folder);
        for (int again = 0; again < 2; ++again) {
            const std::string fault = fault_of(LogbookPlace::of(path));
            CHECK_THAT(fault, Contains("damaged") && Contains("A copy is in " + path + ".damaged-"));
            CHECK(bytes_of(path) == bad);
        }
        // One copy, however often it is tried.
        REQUIRE(copies_in(folder) == before + 1);
        CHECK(bytes_of(path + ".damaged-" + std::to_string(before + 1)) == bad);
        fs::remove(path + "-wal");
        fs::remove(path + "-shm");
    }
    write_bytes(path, good);
    CHECK(opened(LogbookPlace::of(path)).count() == 40);
}

TEST_CASE("SQLite: a damaged logbook can be moved aside whole and a new one begun", "[logbook][sqlite]") {
    const TemporaryFolder folder;
    const std::string path = made_file(folder), bad = bytes_of(path).substr(0, 9000);
    write_bytes(path, bad);
    LogbookOptions options;
    options.start_fresh_if_damaged = true;
    {
        Logbook fresh = opened(LogbookPlace::of(path), options);
        CHECK_THAT(fresh.notice(), Contains(path + ".damaged-1"));
        CHECK(fresh.count() == 0);
        CHECK(fresh.add(made_entry(1)));
    }
    CHECK(bytes_of(path + ".damaged-1") == bad);
    Logbook again = opened(LogbookPlace::of(path), options);
    CHECK(again.notice().empty());
    CHECK(again.count() == 1);
}

TEST_CASE("SQLite: damage found later, in a file too large to look through, is copied aside too", "[logbook][sqlite]") {
    const TemporaryFolder folder;
    const std::string path = made_file(folder);
    {
        Logbook logbook = opened(LogbookPlace::of(path));
        Entry large = made_entry(1000);
        large.attempt_text = std::string(6'000'000, ' ');
        REQUIRE(logbook.add(large));
    }
    std::string bad = bytes_of(path);
    for (std::size_t i = 16384; i < 120'000; i += 1024) bad.replace(i, 512, std::string(512, '\x5a'));
    write_bytes(path, bad);
    Logbook logbook = opened(LogbookPlace::of(path));
    CHECK_THROWS_AS(all_entries(logbook), LogbookUnreadable);
    CHECK(bytes_of(path + ".damaged-1") == bad);
    CHECK(bytes_of(path) == bad);
}

TEST_CASE("SQLite: another program's database is no logbook and stays as it is", "[logbook][sqlite]") {
    const TemporaryFolder folder;
    const LogbookPlace place = LogbookPlace::of(folder.file("other.sqlite"));
    {
        Database other(place);
        (void)other.write([](soci::session& session) {
            session << "CREATE TABLE recipes (title TEXT)";
            return true;
        });
    }
    CHECK_THAT(fault_of(place), Contains("another program's database"));
    CHECK_FALSE(Database(place).has_table("graftwright_meta"));
    CHECK(copies_in(folder) == 0);
}

TEST_CASE("SQLite: a logbook is made on first use with its folder, and only where it may be", "[logbook][sqlite]") {
    const TemporaryFolder folder;
    const std::string path = default_logbook(folder.file("data"), "/nowhere");
    CHECK(path == folder.file("data/graftwright/logbook.sqlite"));
    LogbookOptions only_open;
    only_open.create = false;
    CHECK_THAT(fault_of(LogbookPlace::of(path), only_open), Contains("there is no logbook"));
    CHECK_FALSE(fs::exists(folder.file("data")));
    CHECK(opened(LogbookPlace::of(path)).add(made_entry(1)));
    CHECK((fs::status(folder.file("data/graftwright")).permissions() & fs::perms::others_all) == fs::perms::none);
    CHECK(opened(LogbookPlace::of(path), only_open).count() == 1);
    CHECK_THAT(fault_of(LogbookPlace::of(folder.file(""))), Contains("is a folder"));
}

TEST_CASE("logbook: the default place follows the variables that are set", "[logbook]") {
    CHECK(default_logbook("/data", "/home/odo") == "/data/graftwright/logbook.sqlite");
    CHECK(default_logbook("", "/home/odo") == "/home/odo/.local/share/graftwright/logbook.sqlite");
    CHECK(default_logbook("relative", "/home/odo") == "/home/odo/.local/share/graftwright/logbook.sqlite");
    CHECK(default_logbook("", "").empty());
}
