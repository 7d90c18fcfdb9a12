// Entries to rows of the tables and back, by bound parameters only. Private to this room.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "logbook/entry.h"

namespace soci {
class session;
}

namespace graftwright {

// Writes entries one after another through statements prepared once. Within the caller's transaction.
class EntryWriter {
  public:
    explicit EntryWriter(soci::session& session);
    ~EntryWriter();
    EntryWriter(const EntryWriter&) = delete;
    EntryWriter& operator=(const EntryWriter&) = delete;

    // The entry's number, or empty where the same attempt is there already (and stays as it is).
    [[nodiscard]] std::optional<long long> write(const Entry& entry);

  private:
    struct Statements;
    std::unique_ptr<Statements> statements_;
};

struct EntryFilter {
    std::optional<std::string> trainee, scenario;
};

// Where reading goes on: behind this entry, in the order trainee, time, number.
struct EntryCursor {
    std::string trainee, at_utc;
    long long number = -1;
};

// The next entries behind the cursor, without bites and text. Fewer than `most`: there are no more.
[[nodiscard]] std::vector<Entry> read_entries(soci::session& session, const EntryFilter& filter,
                                              const std::optional<EntryCursor>& behind, int most);
// A trainee's latest entries, the latest first; scenario "": of any.
[[nodiscard]] std::vector<Entry> read_latest(soci::session& session, const std::string& trainee,
                                             const std::string& scenario, int most);
// Fills in what read_entries left out.
void read_bites(soci::session& session, Entry& entry);
void read_text(soci::session& session, Entry& entry);

}  // namespace graftwright
