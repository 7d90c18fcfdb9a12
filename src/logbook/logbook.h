// The logbook: every finished attempt, in a file of the trainee's own or on a teaching unit's server.
//
// One code path for SQLite and PostgreSQL. An attempt is in it when add() has returned, and then stays, whatever
// happens to the program; until then it is not there at all. Several programs may use one logbook at
// once; one object belongs to one thread. The same attempt (same file text, same scenario) is kept once.
// A file of an older version is brought up to date when it is opened, a newer one is refused, a damaged
// one is copied aside and never written over. One that may only be read (its folder, its disk) is read, through a
// copy of its own where it is of an older version, and refuses to be written. Reading costs milliseconds up to 100,000 attempts.
// What the user is at fault for comes back as faults; a machine that won't (disk, locks, network) throws
// std::runtime_error with a sentence. Nothing here goes over a network but to the server named.
#pragma once

#include <functional>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "base/result.h"
#include "logbook/entry.h"
#include "logbook/group_summary.h"
#include "logbook/limits.h"
#include "logbook/place.h"
#include "logbook/trainee_page.h"

namespace graftwright {

struct LogbookOptions {
    bool create = true;  // a file that is not there is made, with its folder; else it is a fault
    // A damaged file is moved aside whole and a new one begun. Else opening fails, with a copy made and the file left.
    bool start_fresh_if_damaged = false;
    LogbookLimits limits = {};
};

struct LogbookSelection {
    std::optional<std::string> trainee, scenario;
};

// Damage found while a logbook is in use; what() says where the copy is.
class LogbookUnreadable : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

class Logbook {
  public:
    [[nodiscard]] static Result<Logbook> open(const LogbookPlace& place, const LogbookOptions& options = {});
    ~Logbook();
    Logbook(Logbook&&) noexcept;
    Logbook& operator=(Logbook&&) noexcept;

    // True: added. False: the same attempt is there already, and stays as it was. The entry's own number is not used.
    [[nodiscard]] bool add(const Entry& entry);
    // All or none; how many were new.
    [[nodiscard]] std::size_t add_all(const std::vector<Entry>& entries);
    // Adds what the other has and this one hasn't, all or none; how many that were.
    [[nodiscard]] std::size_t merge(Logbook& other);

    [[nodiscard]] long long count();
    [[nodiscard]] std::vector<std::string> trainees();
    // The same in an order that may be shown: by name, or by pseudonym, whose order says nothing of the names.
    [[nodiscard]] std::vector<std::string> trainees_to_show(bool anonymous);
    // How far a trainee got with each level, by its id.
    [[nodiscard]] std::vector<LevelCount> levels_of(const std::string& trainee);
    [[nodiscard]] TraineePage trainee_page(const std::string& trainee, const TraineePageOptions& options = {});
    [[nodiscard]] GroupSummary group_summary(bool anonymous, const CusumRates& rates = {});

    // Every entry, by trainee, then time.
    enum class With { numbers, bites, everything };
    void visit(const LogbookSelection& selection, With what, const std::function<void(const Entry&)>& each);

    // What an anonymous export says instead: the same as long as the logbook lives, and nothing to guess from.
    [[nodiscard]] std::string pseudonym_of(const std::string& trainee) const;
    // Name, fingerprint and text without what could say who it was; times and numbers stay.
    [[nodiscard]] Entry anonymous(Entry entry) const;

    // What its user should be told about how it was opened; mostly "".
    [[nodiscard]] const std::string& notice() const;
    [[nodiscard]] const LogbookPlace& place() const;

  private:
    struct Inside;
    explicit Logbook(std::unique_ptr<Inside> inside);
    template <typename Work>
    auto guarded(Work&& work);
    [[nodiscard]] std::size_t write(const std::function<std::size_t(class EntryWriter&)>& work);
    std::unique_ptr<Inside> inside_;
};

}  // namespace graftwright
