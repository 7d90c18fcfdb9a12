#include "game/held_file.h"

#include <cerrno>
#include <fcntl.h>
#include <unistd.h>

#include <sys/file.h>
#include <sys/stat.h>

namespace graftwright {
namespace {

// Between opening and locking it, somebody may have moved the file away: the lock would be of another one.
bool still_there(int fd, const std::string& path) {
    struct stat opened {};
    struct stat named {};
    return ::fstat(fd, &opened) == 0 && ::stat(path.c_str(), &named) == 0 && opened.st_dev == named.st_dev &&
           opened.st_ino == named.st_ino;
}

}  // namespace

HeldFile::HeldFile(const std::string& path, Open how) : path_(path) {
    open(how);
    if (fd_ >= 0) lock();
}

HeldFile::~HeldFile() { let_go(); }

void HeldFile::open(Open how) {
    constexpr int kFlags = O_RDWR | O_APPEND | O_CLOEXEC | O_NONBLOCK;
    constexpr mode_t kOwner = 0644;
    if (how == Open::or_make) {
        fd_ = ::open(path_.c_str(), kFlags | O_CREAT | O_EXCL, kOwner);
        made_ = fd_ >= 0;
        error_ = made_ ? 0 : errno;
        if (made_ || error_ != EEXIST) return;
    }
    fd_ = ::open(path_.c_str(), kFlags);
    error_ = fd_ >= 0 ? 0 : errno;
    // One that can only be read can be held too.
    if (fd_ < 0) fd_ = ::open(path_.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
}

void HeldFile::lock() {
    locked_ = ::flock(fd_, LOCK_EX | LOCK_NB) == 0;
    elsewhere_ = locked_ ? !still_there(fd_, path_) : errno == EWOULDBLOCK;
    if (elsewhere_) let_go();
}

void HeldFile::let_go() {
    if (fd_ >= 0) ::close(fd_);
    fd_ = -1;
    locked_ = false;
}

}  // namespace graftwright
