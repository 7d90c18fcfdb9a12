// The journals of a user's folder: one for every attempt that is being played, or was interrupted.
//
// An attempt's journal is held (held_file.h) while it is played, by whichever window plays it. One that nobody holds
// and that has no end was interrupted: all of these are offered, the one played last first, at every first screen until
// it is played to its end or set aside. A new attempt takes a name of its own (journal.jsonl, journal-2.jsonl …) and
// writes over nothing but an attempt that has ended. On a file system without locks an attempt that is
// being played in another window is offered too.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "game/held_file.h"
#include "game/journal.h"

namespace graftwright {

struct InterruptedAttempt {
    std::string path;
    Journal journal;
};

struct JournalsFound {
    std::vector<InterruptedAttempt> interrupted;  // the one played last first
    std::vector<std::string> words;               // what was put aside because it can't be read, and why
};

class Journals {
  public:
    explicit Journals(std::string folder) : folder_(std::move(folder)) {}

    // Puts aside, and keeps, what can't be read or is of another version.
    [[nodiscard]] JournalsFound look() const;
    // An empty one for a new attempt; where the disk won't, not held.
    [[nodiscard]] std::shared_ptr<HeldFile> fresh() const;
    // Kept, and not offered again; why not, or "".
    [[nodiscard]] std::string set_aside(const std::string& path) const;

  private:
    [[nodiscard]] std::string name(int number) const;

    std::string folder_;
};

}  // namespace graftwright
