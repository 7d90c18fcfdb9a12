#include "logbook/database.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <string_view>
#include <thread>
#include <vector>

#include <soci/postgresql/soci-postgresql.h>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include "logbook/server_url.h"

namespace graftwright {
namespace {

// Looking through a whole file takes about 2 ms a MiB; a larger one is only found out where it is read.
constexpr std::uintmax_t kCheckedWholeBytes = std::uintmax_t{4} << 20;

// With its folder, so that no name is taken for something else (":memory:", "file:…").
std::string with_folder(const std::string& path) { return path.starts_with('/') ? path : "./" + path; }

// A URI, which says that nobody writes to the file: no lock is asked for, and no file beside it.
std::string uri_of_still_file(const std::string& path) {
    std::string out = "file://";
    for (const char c : std::filesystem::absolute(path).string()) {
        const std::size_t special = std::string_view("% ?#\"").find(c);
        out += special == std::string_view::npos ? std::string(1, c)
                                                 : std::array{"%25", "%20", "%3F", "%23", "%22"}[special];
    }
    return out + "?immutable=1";
}

void replace_all(std::string& words, const std::string& what, const std::string& by) {
    for (std::size_t at = words.find(what); at != std::string::npos; at = words.find(what, at + by.size()))
        words.replace(at, what.size(), by);
}

}  // namespace

std::string Database::file_sentence(int code, const std::string& message) const {
    switch (code & 0xff) {
        case SQLITE_BUSY:
        case SQLITE_LOCKED:
            return "another program has kept the logbook busy for " + std::to_string(limits_.busy_s) + " s";
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

void Database::rethrow() const {
    const std::string name = "logbook " + place_.shown() + ": ";
    try {
        throw;
    } catch (const soci::sqlite3_soci_error& error) {
        const int code = error.result() & 0xff;
        // The library's own words would repeat the statement and the values bound to it.
        if (code == SQLITE_CORRUPT || code == SQLITE_NOTADB) throw LogbookDamaged(error.get_error_message());
        throw std::runtime_error(name + file_sentence(code, error.get_error_message()));
    } catch (const soci::soci_error& error) {
        if (watch_ && has_given_up(*watch_)) throw std::runtime_error(name + NoAnswer(limits_.answer_s).what());
        std::string words = place_.without_secrets(error.get_error_message());
        while (!words.empty() && words.back() == '\n') words.pop_back();
        std::replace(words.begin(), words.end(), '\n', ' ');  // one sentence, wherever it is shown
        replace_all(words, "timeout expired", NoAnswer(limits_.connect_s).what());
        throw std::runtime_error(name + words);
    } catch (const NoAnswer& silence) {
        throw std::runtime_error(name + silence.what());
    }
}

void Database::refuse_to_write() const {
    throw std::runtime_error("logbook " + place_.shown() + ": " + file_sentence(SQLITE_READONLY, ""));
}

Database::Database(LogbookPlace place, LogbookLimits limits, Access access, const std::string& file)
    : place_(std::move(place)),
      limits_(limits),
      may_write_(access == Access::shared || access == Access::private_copy) {
    try {
        if (place_.server())
            connect_to_server();
        else
            connect_to_file(access, file.empty() ? place_.path() : file);
    } catch (const std::exception&) {
        rethrow();
    }
}

Database::~Database() = default;

void Database::connect_to_server() {
    std::map<std::string, std::string> parameters = place_.parameters();
    const auto given = parameters.emplace("connect_timeout", std::to_string(limits_.connect_s)).first;
    limits_.connect_s = std::stoi(given->second);
    parameters.emplace("application_name", "graftwright");
    const std::string& hosts = parameters["host"];
    const int addresses = 1 + static_cast<int>(std::count(hosts.begin(), hosts.end(), ','));
    if (hosts.empty()) parameters.erase("host");
    LimitedSession opened = open_limited(connection_words(parameters),
                                         std::max(limits_.answer_s, addresses * limits_.connect_s), limits_.answer_s);
    watch_ = std::move(opened.watch);
    session_ = std::move(opened.session);
    *session_ << "SET client_min_messages = warning";
    *session_ << "SET client_encoding = 'UTF8'";
    *session_ << "SET lock_timeout = '" + std::to_string(limits_.busy_s) + "s'";
}

void Database::connect_to_file(Access access, const std::string& file) {
    const std::string name = access == Access::as_it_lies ? uri_of_still_file(file) : with_folder(file);
    session_ = std::make_unique<soci::session>(
        *soci::factory_sqlite3(),
        "dbname=\"" + name + "\" timeout=" + std::to_string(limits_.busy_s) + (may_write_ ? "" : " readonly=true"));
    if (access == Access::shared) keep_a_log();
    if (access == Access::beside) *session_ << "BEGIN";  // one moment's state, for as long as this is open
    // A copy is not worth a file beside it, and its name may go while it is open.
    std::string journal;
    if (access == Access::private_copy) {
        *session_ << "PRAGMA journal_mode = DELETE", soci::into(journal);
        *session_ << "PRAGMA journal_mode = MEMORY", soci::into(journal);
    }
}

// Changing the kind of journal does not wait for others by itself; while they have it, they may be changing it.
void Database::keep_a_log() {
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
    if (server() || std::filesystem::file_size(place_.path(), ignored) > kCheckedWholeBytes) return;
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
