#include "logbook/opening.h"

#include <algorithm>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <unistd.h>

#include <soci/soci.h>
#include <sys/file.h>

#include "logbook/digest.h"
#include "logbook/migrations.h"

namespace graftwright {
namespace {

namespace fs = std::filesystem;

// "graftwri" in ASCII: shape and key of a server's tables are changed by one program at a time.
constexpr long long kServerLock = 0x6772616674777269;

int version_of(Database& database) {
    if (!database.has_table("graftwright_meta")) return 0;
    return database.run([](soci::session& session) {
        std::string version;
        session << "SELECT value FROM graftwright_meta WHERE name = 'version'", soci::into(version);
        return session.got_data() ? std::atoi(version.c_str()) : 0;
    });
}

void take_steps(soci::session& session, int from, bool server) {
    if (from == 0) {
        session << "CREATE TABLE graftwright_meta (name TEXT PRIMARY KEY, value TEXT NOT NULL)";
        session << "INSERT INTO graftwright_meta (name, value) VALUES ('version', '0')";
    }
    for (int version = from + 1; version <= kLogbookVersion; ++version)
        for (const std::string& statement : migration(version, server)) session << statement;
    const std::string now = std::to_string(kLogbookVersion), key = random_key_hex();
    session << "UPDATE graftwright_meta SET value = :now WHERE name = 'version'", soci::use(now);
    session << "UPDATE graftwright_meta SET value = :key WHERE name = 'pseudonym_key' AND value = ''", soci::use(key);
}

void bring_up_to_date(Database& database) {
    if (version_of(database) == kLogbookVersion) return;
    (void)database.write([&](soci::session& session) {
        if (database.server()) session << "SELECT pg_advisory_xact_lock(:lock)", soci::use(kServerLock);
        // Another program may have been quicker.
        const int version = version_of(database);
        if (version < kLogbookVersion) take_steps(session, version, database.server());
        return true;
    });
}

Result<OpenedDatabase> open_sound(const LogbookPlace& place) {
    OpenedDatabase opened;
    opened.database = std::make_unique<Database>(place);
    Database& database = *opened.database;
    database.check_whole();
    const int version = version_of(database);
    if (version > kLogbookVersion) {
        return Fault{place.shown(), 0,
                     "the logbook is of version " + std::to_string(version) + ", this program knows up to " +
                         std::to_string(kLogbookVersion) + ": it takes a newer Graftwright, and nothing was changed"};
    }
    if (version == 0 && !database.is_empty())
        return Fault{place.shown(), 0, "is another program's database and not a logbook; nothing was changed"};
    bring_up_to_date(database);
    opened.pseudonym_key = database.run([](soci::session& session) {
        std::string key;
        session << "SELECT value FROM graftwright_meta WHERE name = 'pseudonym_key'", soci::into(key);
        return key;
    });
    if (opened.pseudonym_key.size() != 64) throw LogbookDamaged("its key of pseudonyms is not there");
    return opened;
}

bool same_bytes(const fs::path& a, const fs::path& b) {
    std::error_code none;
    if (fs::file_size(a, none) != fs::file_size(b, none) || none) return false;
    std::ifstream one(a, std::ios::binary), other(b, std::ios::binary);
    return std::equal(std::istreambuf_iterator<char>(one), std::istreambuf_iterator<char>(),
                      std::istreambuf_iterator<char>(other), std::istreambuf_iterator<char>());
}

std::string free_name_beside(const std::string& path) {
    for (int n = 1;; ++n)
        if (std::string name = path + ".damaged-" + std::to_string(n); !fs::exists(name)) return name;
}

void move_aside(const std::string& path, const std::string& to) {
    fs::rename(path, to);
    std::error_code none;
    if (fs::exists(path + "-wal", none)) fs::rename(path + "-wal", to + "-wal");
    fs::remove(path + "-shm", none);  // an index into the log, made anew by whoever opens it
}

// One program at a time sets a damaged file aside; the next finds the new one sound.
class AsideLock {
  public:
    explicit AsideLock(const std::string& path)
        : file_(open((path + ".lock").c_str(), O_CREAT | O_RDWR | O_CLOEXEC, 0600)) {
        if (file_ >= 0) flock(file_, LOCK_EX);
    }
    ~AsideLock() {
        if (file_ >= 0) close(file_);
    }
    AsideLock(const AsideLock&) = delete;
    AsideLock& operator=(const AsideLock&) = delete;

  private:
    int file_;
};

Result<OpenedDatabase> begin_afresh(const LogbookPlace& place) {
    const AsideLock lock(place.text);
    try {
        return open_sound(place);
    } catch (const LogbookDamaged& damage) {
        const std::string aside = free_name_beside(place.text);
        move_aside(place.text, aside);
        Result<OpenedDatabase> opened = open_sound(place);
        if (!opened.ok()) return opened;
        OpenedDatabase fresh = opened.take();
        fresh.notice = "The logbook could not be read any more (" + std::string(damage.what()) + "). It was moved to " +
                       aside + ", whole, and a new one was begun.";
        return fresh;
    }
}

}  // namespace

std::string copy_aside(const std::string& path) {
    const fs::path folder = fs::absolute(path).parent_path();
    const std::string stem = fs::path(path).filename().string() + ".damaged-";
    for (const auto& beside : fs::directory_iterator(folder)) {
        const std::string name = beside.path().filename().string();
        if (name.starts_with(stem) && !name.ends_with("-wal") && same_bytes(path, beside.path()))
            return beside.path().string();
    }
    std::string copy = free_name_beside(path);
    fs::copy_file(path, copy);
    std::error_code none;
    if (fs::exists(path + "-wal", none)) fs::copy_file(path + "-wal", copy + "-wal", none);
    return copy;
}

std::string damaged_words(const std::string& what, const std::string& copy) {
    return "the logbook is damaged (" + what + "). A copy is in " + copy +
           " and the file itself was left as it is; move it away to begin a new one";
}

Result<OpenedDatabase> open_database(const LogbookPlace& place, const LogbookOptions& options) {
    if (const std::string fault = place.fault(); !fault.empty()) return Fault{"--logbook " + place.shown(), 0, fault};
    std::error_code none;
    if (!place.server) {
        if (fs::is_directory(place.text, none)) return Fault{place.shown(), 0, "is a folder, expected a logbook"};
        if (!fs::exists(place.text, none)) {
            if (!options.create) return Fault{place.shown(), 0, "there is no logbook"};
            if (const fs::path folder = fs::path(place.text).parent_path();
                !folder.empty() && !fs::exists(folder, none)) {
                fs::create_directories(folder, none);
                fs::permissions(folder, fs::perms::owner_all, none);  // names are nobody else's business
            }
        }
    }
    try {
        return open_sound(place);
    } catch (const LogbookDamaged& damage) {
        if (options.start_fresh_if_damaged) return begin_afresh(place);
        return Fault{place.shown(), 0, damaged_words(damage.what(), copy_aside(place.text))};
    }
}

}  // namespace graftwright
