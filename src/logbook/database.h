// A connection to the logbook's tables, on either back end: the one place that knows which.
//
// SQLite: write-ahead log, every commit on the disk before it returns, other writers waited for up to 20 s.
// PostgreSQL: the server's own durability. What goes wrong comes out as one of two exceptions: LogbookDamaged
// where the file itself can't be understood any more, std::runtime_error with a sentence for everything else
// (disk, locks, network). One thread at a time. Private to this room.
#pragma once

#include <memory>
#include <stdexcept>
#include <string>
#include <utility>

#include "logbook/place.h"

namespace soci {
class session;
}

namespace graftwright {

class LogbookDamaged : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

class Database {
  public:
    // A file that is not there is made.
    explicit Database(LogbookPlace place);
    ~Database();
    Database(const Database&) = delete;
    Database& operator=(const Database&) = delete;

    [[nodiscard]] const LogbookPlace& place() const { return place_; }
    [[nodiscard]] bool server() const { return place_.server; }

    // Runs work(session), with the library's exceptions put into our two.
    template <typename Work>
    auto run(Work&& work) {
        try {
            return std::forward<Work>(work)(*session_);
        } catch (const std::exception&) {
            rethrow(place_);
        }
    }
    // The same in one transaction that keeps other writers out; undone where work throws.
    template <typename Work>
    auto write(Work&& work) {
        return run([&](soci::session& session) {
            WriteTransaction transaction(*this);
            auto result = std::forward<Work>(work)(session);
            transaction.commit();
            return result;
        });
    }

    [[nodiscard]] bool has_table(const std::string& name);
    // Of a file: any table at all, so that another program's database is told from a new one.
    [[nodiscard]] bool is_empty();
    // A thorough look at a small file; throws LogbookDamaged.
    void check_whole();

  private:
    class WriteTransaction {
      public:
        explicit WriteTransaction(Database& database);
        ~WriteTransaction();
        WriteTransaction(const WriteTransaction&) = delete;
        WriteTransaction& operator=(const WriteTransaction&) = delete;
        void commit();

      private:
        Database& database_;
        bool open_ = true;
    };

    // Inside a catch: the exception at hand, translated.
    [[noreturn]] static void rethrow(const LogbookPlace& place);
    void prepare_file();

    LogbookPlace place_;
    std::unique_ptr<soci::session> session_;
};

}  // namespace graftwright
