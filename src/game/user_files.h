// What a user's own folder holds: settings, journals (journals.h), finished attempts, the logbook, levels.
//
// The game goes on without it: where it can't be made or written, what should be kept is not, and somebody is told.
#pragma once

#include <string>

#include "files/attempt.h"

namespace graftwright {

class UserFiles {
  public:
    // Makes the folder where it is missing.
    explicit UserFiles(std::string folder);

    [[nodiscard]] const std::string& folder() const { return folder_; }
    [[nodiscard]] std::string settings() const { return folder_ + "/settings.json"; }
    // Held by the first window that is open; one that can't have it is not alone.
    [[nodiscard]] std::string window_lock() const { return folder_ + "/window.lock"; }
    [[nodiscard]] std::string logbook() const { return folder_ + "/logbook.sqlite"; }
    // Levels of the user's own making, and the one that was left unsaved when the window closed.
    [[nodiscard]] std::string levels() const { return folder_ + "/levels"; }
    [[nodiscard]] std::string unsaved_level() const { return folder_ + "/unsaved-level.json"; }
    // Why the folder could not be made, as a sentence; "": it is there.
    [[nodiscard]] const std::string& fault() const { return fault_; }
    // Writes the attempt under a name of its own and returns its path. Throws std::runtime_error where the disk won't.
    [[nodiscard]] std::string keep(const Attempt& attempt) const;

  private:
    std::string folder_, fault_;
};

// Renames a file to <path>.aside-1 (or -2, …), so that it is kept and not read again; its new path, "" where the
// disk won't.
std::string move_aside(const std::string& path);
// The same, with a sentence: "<what> <why>; it is kept as <new path>."
[[nodiscard]] std::string put_aside(const std::string& what, const std::string& path, const std::string& why);

}  // namespace graftwright
