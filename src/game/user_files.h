// What a user's own folder holds: settings, the journal of the attempt in hand, finished attempts, the logbook, levels.
#pragma once

#include <string>

#include "files/attempt.h"

namespace graftwright {

class UserFiles {
  public:
    // Makes the folder where it is missing; throws std::runtime_error where the disk won't.
    explicit UserFiles(std::string folder);

    [[nodiscard]] const std::string& folder() const { return folder_; }
    [[nodiscard]] std::string settings() const { return folder_ + "/settings.json"; }
    [[nodiscard]] std::string journal() const { return folder_ + "/journal.jsonl"; }
    [[nodiscard]] std::string logbook() const { return folder_ + "/logbook.sqlite"; }
    // Levels of the user's own making, and the one that was left unsaved when the window closed.
    [[nodiscard]] std::string levels() const { return folder_ + "/levels"; }
    [[nodiscard]] std::string unsaved_level() const { return folder_ + "/unsaved-level.json"; }
    // A journal that is not gone on with is put aside, never deleted.
    void set_journal_aside() const;
    // Writes the attempt under a name of its own and returns its path.
    [[nodiscard]] std::string keep(const Attempt& attempt) const;

  private:
    std::string folder_;
};

}  // namespace graftwright
