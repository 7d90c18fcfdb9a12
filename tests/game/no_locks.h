// A file system without locks, as some networks' are, for as long as this lives.
#pragma once

namespace graftwright::test {

// Kept by held_file_test.cpp.
class NoLocks {
  public:
    NoLocks() { now() = true; }
    ~NoLocks() { now() = false; }
    NoLocks(const NoLocks&) = delete;
    NoLocks& operator=(const NoLocks&) = delete;
    static bool& now();
};

}  // namespace graftwright::test
