// Writes a file whole or not at all.
//
// The bytes go beside it, under a name that nobody has; flushed to the disk and checked, they take its place in
// one step. Until then, and for ever where something fails, an older file stays what it was and nothing is left
// beside it. A symbolic link stays and what it leads to is replaced; so do an older file's permissions.
// What is no file on a disk (a terminal, a pipe, /dev/stdout whatever it leads to) is written to directly.
// Does not make folders, nor keep two programs from writing one file: the later one wins.
#pragma once

#include <string>
#include <string_view>

namespace graftwright {

class WholeFile {
  public:
    // All three throw std::runtime_error, "cannot write PATH: " and the system's reason.
    explicit WholeFile(const std::string& path);
    void add(std::string_view bytes);
    void put_in_place();
    // Not put in place: nothing has happened.
    ~WholeFile();
    WholeFile(const WholeFile&) = delete;
    WholeFile& operator=(const WholeFile&) = delete;

  private:
    void open_beside();
    [[noreturn]] void fail(int error) const;

    std::string path_;    // as it was given, for messages
    std::string target_;  // the file that is replaced
    std::string beside_;  // what is written meanwhile; "": written directly
    int file_ = -1;
};

// All of it at once.
void write_whole(const std::string& path, std::string_view bytes);

}  // namespace graftwright
