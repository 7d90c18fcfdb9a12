// A connection to the logbook's tables, on either back end: the one place that knows which.
//
// SQLite: write-ahead log, every commit on the disk before it returns, other writers waited for up to 20 s.
// PostgreSQL: the server's own durability, every answer waited for up to 30 s (limits.h). What goes wrong comes out as
// one of two exceptions: LogbookDamaged where the file itself can't be understood any more, std::runtime_error with a
// sentence for everything else (disk, locks, network). One thread at a time. Private to this room.
#pragma once

#include <memory>
#include <stdexcept>
#include <string>
#include <utility>

#include "logbook/limited_session.h"
#include "logbook/limits.h"
#include "logbook/place.h"

namespace soci {
class session;
}

namespace graftwright {

class LogbookDamaged : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

// How a file is opened.
enum class Access {
    shared,        // to read and write, beside others; one that is not there is made
    beside,        // to read, by the log and the locks of a program that is at work
    as_it_lies,    // to read where nobody is at work: without a lock, or a file beside it
    private_copy,  // another file in its stead, nobody else's
};

class Database {
  public:
    explicit Database(LogbookPlace place, LogbookLimits limits = {})
        : Database(std::move(place), limits, Access::shared, "") {}
    // file: what is opened in the place's stead; "" the place itself.
    Database(LogbookPlace place, LogbookLimits limits, Access access, const std::string& file);
    ~Database();
    Database(const Database&) = delete;
    Database& operator=(const Database&) = delete;

    [[nodiscard]] const LogbookPlace& place() const { return place_; }
    [[nodiscard]] bool server() const { return place_.server(); }

    // Runs work(session), with the library's exceptions put into our two.
    template <typename Work>
    auto run(Work&& work) {
        try {
            return std::forward<Work>(work)(*session_);
        } catch (const std::exception&) {
            rethrow();
        }
    }
    // The same in one transaction that keeps other writers out; undone where work throws.
    template <typename Work>
    auto write(Work&& work) {
        if (!may_write_) refuse_to_write();
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
    // From now on writing is refused with a sentence.
    void write_no_more() { may_write_ = false; }
    [[nodiscard]] bool may_write() const { return may_write_; }

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
    [[noreturn]] void rethrow() const;
    [[noreturn]] void refuse_to_write() const;
    [[nodiscard]] std::string file_sentence(int code, const std::string& message) const;
    void connect_to_server();
    void connect_to_file(Access access, const std::string& file);
    void keep_a_log();

    LogbookPlace place_;
    LogbookLimits limits_;
    bool may_write_ = true;
    std::shared_ptr<AnswerWatch> watch_;  // a server's
    std::unique_ptr<soci::session> session_;
};

}  // namespace graftwright
