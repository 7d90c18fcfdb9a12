// A file that one window at a time has: opened and locked together.
//
// The lock is advisory (flock) and belongs to the open file: the system lets it go with the process, however that
// ends, so nothing is left locked by a crash. On a file system without locks the file is had all the same, and
// nobody is kept out: locked() says which it is. Nothing here throws.
#pragma once

#include <string>

namespace graftwright {

class HeldFile {
  public:
    enum class Open { existing, or_make };

    HeldFile(const std::string& path, Open how);
    ~HeldFile();
    HeldFile(const HeldFile&) = delete;
    HeldFile& operator=(const HeldFile&) = delete;

    // It could be opened, and nobody else has it.
    [[nodiscard]] bool held() const { return fd_ >= 0; }
    // Somebody else has it.
    [[nodiscard]] bool elsewhere() const { return elsewhere_; }
    [[nodiscard]] bool locked() const { return locked_; }
    // It was not there before.
    [[nodiscard]] bool made() const { return made_; }
    // Why it could not be opened, or not for writing; 0: it could.
    [[nodiscard]] int error() const { return error_; }
    [[nodiscard]] int fd() const { return fd_; }  // -1: not held
    [[nodiscard]] const std::string& path() const { return path_; }

  private:
    void open(Open how);
    void lock();
    void let_go();

    std::string path_;
    int fd_ = -1, error_ = 0;
    bool elsewhere_ = false, locked_ = false, made_ = false;
};

}  // namespace graftwright
