// A copy of a logbook's file in a folder of its own, for reading what can't be opened where it lies. Private to this
// room.
#pragma once

#include <string>

namespace graftwright {

// Beside the file stands a log that holds a part of it: written by a program that is at work, or that died.
[[nodiscard]] bool has_unfinished_log(const std::string& path);

class PrivateCopy {
  public:
    // The file with its log, one after the other: whole where nobody writes to them meanwhile. Throws
    // std::runtime_error with a sentence: no room, no permission.
    explicit PrivateCopy(const std::string& path);
    // Takes the folder away; what is open goes on being read.
    ~PrivateCopy();
    PrivateCopy(const PrivateCopy&) = delete;
    PrivateCopy& operator=(const PrivateCopy&) = delete;

    [[nodiscard]] const std::string& path() const { return path_; }

  private:
    std::string folder_, path_;
};

}  // namespace graftwright
