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
#include "logbook/private_copy.h"

namespace graftwright {
namespace {

namespace fs = std::filesystem;

// "graftwri" in ASCII: shape and key of a server's tables are changed by one program at a time.
constexpr long long kServerLock = 0x6772616674777269;

constexpr int kTriesBeside = 20;

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

Result<OpenedDatabase> made_sound(std::unique_ptr<Database> connected) {
    OpenedDatabase opened;
    opened.database = std::move(connected);
    Database& database = *opened.database;
    const LogbookPlace& place = database.place();
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

Result<OpenedDatabase> open_sound(const LogbookPlace& place, const LogbookLimits& limits) {
    return made_sound(std::make_unique<Database>(place, limits));
}

// What can be read without writing a file beside it; empty where there is no way to.
std::unique_ptr<Database> read_in_place(const LogbookPlace& place, const LogbookLimits& limits) {
    if (!has_unfinished_log(place.path()))
        return std::make_unique<Database>(place, limits, Access::as_it_lies, place.path());
    // While the other program changes the log's index, it may look like one that nobody can read.
    for (int tries = 0; tries < kTriesBeside; ++tries) {
        try {
            auto beside = std::make_unique<Database>(place, limits, Access::beside, place.path());
            (void)version_of(*beside);  // from here on everything is read as it is now
            return beside;
        } catch (const LogbookDamaged&) {
            throw;
        } catch (const std::runtime_error&) {
            continue;
        }
    }
    return nullptr;  // the program that wrote the log has died, and took the way into it along
}

// In a folder where nothing can be written the library can neither lock nor keep its log. A file of today is read
// where it lies; else a copy is, which can be put in order and brought up to date.
Result<OpenedDatabase> open_for_reading(const LogbookPlace& place, const LogbookLimits& limits) {
    if (auto in_place = read_in_place(place, limits); in_place && version_of(*in_place) >= kLogbookVersion)
        return made_sound(std::move(in_place));
    const PrivateCopy copy(place.path());
    Result<OpenedDatabase> opened =
        made_sound(std::make_unique<Database>(place, limits, Access::private_copy, copy.path()));
    if (!opened.ok()) return opened;
    OpenedDatabase readable = opened.take();
    readable.database->write_no_more();
    return readable;
}

// The log and its index must be writable too: they stand in the folder, or have to be made there.
bool may_be_written(const std::string& path) {
    const std::string folder = fs::absolute(path).parent_path().string();
    return access(path.c_str(), W_OK) == 0 &&
           (access(folder.c_str(), W_OK) == 0 || access((path + "-shm").c_str(), W_OK) == 0);
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

Result<OpenedDatabase> begin_afresh(const LogbookPlace& place, const LogbookLimits& limits) {
    const AsideLock lock(place.path());
    try {
        return open_sound(place, limits);
    } catch (const LogbookDamaged& damage) {
        const std::string aside = free_name_beside(place.path());
        move_aside(place.path(), aside);
        Result<OpenedDatabase> opened = open_sound(place, limits);
        if (!opened.ok()) return opened;
        OpenedDatabase fresh = opened.take();
        fresh.notice = "The logbook could not be read any more (" + std::string(damage.what()) + "). It was moved to " +
                       aside + ", whole, and a new one was begun.";
        return fresh;
    }
}

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

}  // namespace

std::string damaged_words(const std::string& what, const std::string& path, bool may_write) {
    if (!may_write)
        return "the logbook is damaged (" + what +
               "), or was written to while it was read. It may only be read here and was left as it is, without a copy";
    return "the logbook is damaged (" + what + "). A copy is in " + copy_aside(path) +
           " and the file itself was left as it is; move it away to begin a new one";
}

Result<OpenedDatabase> open_database(const LogbookPlace& place, const LogbookOptions& options) {
    if (!place.fault().empty()) return Fault{"--logbook " + place.shown(), 0, place.fault()};
    const std::string& path = place.path();
    std::error_code none;
    bool only_read = false;
    if (!place.server()) {
        if (fs::is_directory(path, none)) return Fault{path, 0, "is a folder, expected a logbook"};
        if (fs::exists(path, none)) {
            only_read = !may_be_written(path);
        } else {
            if (!options.create) return Fault{path, 0, "there is no logbook"};
            if (const fs::path folder = fs::path(path).parent_path(); !folder.empty() && !fs::exists(folder, none)) {
                fs::create_directories(folder, none);
                fs::permissions(folder, fs::perms::owner_all, none);  // names are nobody else's business
            }
        }
    }
    try {
        return only_read ? open_for_reading(place, options.limits) : open_sound(place, options.limits);
    } catch (const LogbookDamaged& damage) {
        if (options.start_fresh_if_damaged && !only_read) return begin_afresh(place, options.limits);
        return Fault{path, 0, damaged_words(damage.what(), path, !only_read)};
    }
}

}  // namespace graftwright
