#include "logbook/database.h"

#include <algorithm>
#include <filesystem>
#include <thread>
#include <vector>

#include <soci/postgresql/soci-postgresql.h>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>

namespace graftwright {
namespace {

constexpr int kBusySeconds = 20;
// Looking through a whole file takes about 2 ms a MiB; a larger one is only found out where it is read.
constexpr std::uintmax_t kCheckedWholeBytes = std::uintmax_t{4} << 20;

std::string connection_to_file(const std::string& path) {
    return "dbname=\"" + path + "\" timeout=" + std::to_string(kBusySeconds);
}

// The library takes a connection for "key=value …" and would add a "=" to a URL that has none.
std::string connection_to_server(std::string url) {
    const auto add = [&](const std::string& key, const std::string& value) {
        if (url.find(key + "=") != std::string::npos) return;
        url += (url.find('?') == std::string::npos ? "?" : "&") + key + "=" + value;
    };
    add("connect_timeout", "10");
    add("application_name", "graftwright");
    add("tcp_user_timeout", "20000");  // ms: a server that vanished in the middle
    return url;
}

std::string file_sentence(int code, const std::string& message) {
    switch (code & 0xff) {
        case SQLITE_BUSY:
        case SQLITE_LOCKED:
            return "another program has kept the logbook busy for " + std::to_string(kBusySeconds) + " s";
        case SQLITE_FULL:
            return "the disk is full";
        case SQLITE_READONLY:
            return "the logbook may only be read, not written";
        case SQLITE_CANTOPEN:
            return "the file can't be opened or made there";
        default:
            return message;
    }
}

}  // namespace

void Database::rethrow(const LogbookPlace& place) {
    const std::string name = "logbook " + place.shown() + ": ";
    try {
        throw;
    } catch (const soci::sqlite3_soci_error& error) {
        const int code = error.result() & 0xff;
        // The library's own words would repeat the statement and the values bound to it.
        if (code == SQLITE_CORRUPT || code == SQLITE_NOTADB) throw LogbookDamaged(error.get_error_message());
        throw std::runtime_error(name + file_sentence(code, error.get_error_message()));
    } catch (const soci::soci_error& error) {
        std::string words = error.get_error_message();
        while (!words.empty() && words.back() == '\n') words.pop_back();
        std::replace(words.begin(), words.end(), '\n', ' ');  // one sentence, wherever it is shown
        throw std::runtime_error(name + words);
    }
}

Database::Database(LogbookPlace place) : place_(std::move(place)) {
    try {
        if (place_.server) {
            session_ = std::make_unique<soci::session>(*soci::factory_postgresql(), connection_to_server(place_.text));
            *session_ << "SET client_min_messages = warning";
            *session_ << "SET client_encoding = 'UTF8'";
            *session_ << "SET lock_timeout = '" + std::to_string(kBusySeconds) + "s'";
        } else {
            session_ = std::make_unique<soci::session>(*soci::factory_sqlite3(), connection_to_file(place_.text));
            prepare_file();
        }
    } catch (const std::exception&) {
        rethrow(place_);
    }
}

Database::~Database() = default;

// Changing the kind of journal does not wait for others by itself; while they have it, they may be changing it.
void Database::prepare_file() {
    for (int attempt = 0;; ++attempt) {
        std::string journal;
        *session_ << "PRAGMA journal_mode", soci::into(journal);
        if (journal == "wal") break;
        try {
            *session_ << "PRAGMA journal_mode = WAL", soci::into(journal);
            break;  // where the disk can't, the older kind stays: slower, as safe
        } catch (const soci::sqlite3_soci_error& error) {
            if ((error.result() & 0xff) != SQLITE_BUSY || attempt >= 100) throw;
            std::this_thread::sleep_for(std::chrono::milliseconds(20));
        }
    }
    *session_ << "PRAGMA synchronous = FULL";
}

bool Database::has_table(const std::string& name) {
    return run([&](soci::session& session) {
        int found = 0;
        const char* const query = server() ? "SELECT count(*) FROM information_schema.tables"
                                             " WHERE table_schema = current_schema() AND table_name = :name"
                                           : "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = :name";
        session << query, soci::use(name), soci::into(found);
        return found > 0;
    });
}

bool Database::is_empty() {
    if (server()) return true;  // other tables may stand beside ours
    return run([](soci::session& session) {
        int found = 0;
        session << "SELECT count(*) FROM sqlite_master", soci::into(found);
        return found == 0;
    });
}

void Database::check_whole() {
    std::error_code ignored;
    if (server() || std::filesystem::file_size(place_.text, ignored) > kCheckedWholeBytes) return;
    run([](soci::session& session) {
        std::string answer;
        session << "PRAGMA quick_check(1)", soci::into(answer);
        if (answer != "ok") throw LogbookDamaged(answer);
        return true;
    });
}

Database::WriteTransaction::WriteTransaction(Database& database) : database_(database) {
    *database_.session_ << (database_.server() ? "BEGIN" : "BEGIN IMMEDIATE");
}

Database::WriteTransaction::~WriteTransaction() {
    if (!open_) return;
    try {
        *database_.session_ << "ROLLBACK";
    } catch (const std::exception&) {
        // The connection is gone, and with it the transaction.
    }
}

void Database::WriteTransaction::commit() {
    *database_.session_ << "COMMIT";
    open_ = false;
}

}  // namespace graftwright
