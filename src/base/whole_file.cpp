#include "base/whole_file.h"

#include <cerrno>
#include <cstdio>
#include <fcntl.h>
#include <filesystem>
#include <optional>
#include <stdexcept>
#include <system_error>
#include <unistd.h>

#include <sys/stat.h>

namespace graftwright {
namespace {

namespace fs = std::filesystem;

constexpr int kMostLinks = 40;  // as many as the system follows

// What is at the end of the links; its name may be free yet.
std::string followed(const std::string& path) {
    fs::path at = path;
    std::error_code none;
    for (int i = 0; i < kMostLinks && fs::is_symlink(at, none); ++i) {
        const fs::path to = fs::read_symlink(at, none);
        if (none) break;
        at = at.parent_path() / to;  // an absolute one stands alone
    }
    return at.string();
}

// The standard output or error that is this very file: replaced, they would write on into nowhere.
std::optional<int> stream_of(const struct stat& there) {
    for (const int stream : {STDOUT_FILENO, STDERR_FILENO}) {
        struct stat its {};
        if (fstat(stream, &its) == 0 && its.st_dev == there.st_dev && its.st_ino == there.st_ino) return stream;
    }
    return std::nullopt;
}

}  // namespace

WholeFile::WholeFile(const std::string& path) : path_(path) {
    struct stat there {};
    const bool exists = stat(path.c_str(), &there) == 0;
    if (exists) {
        if (const std::optional<int> stream = stream_of(there)) {
            std::fflush(stdout);  // what was said before stays before
            file_ = fcntl(*stream, F_DUPFD_CLOEXEC, 0);
        } else if (!S_ISREG(there.st_mode)) {
            file_ = open(path.c_str(), O_WRONLY | O_CLOEXEC);
        } else if (access(path.c_str(), W_OK) == 0) {
            open_beside();
            // Not everybody may give a file away; then it is the writer's own.
            if (fchown(file_, there.st_uid, there.st_gid) != 0) errno = 0;
            if (fchmod(file_, there.st_mode & 07777U) != 0) errno = 0;
        }
    } else {
        open_beside();
    }
    if (file_ < 0) fail(errno);
}

void WholeFile::open_beside() {
    target_ = followed(path_);
    std::error_code none;
    if (fs::is_symlink(target_, none)) fail(ELOOP);
    if (target_.empty() || target_.back() == '/') fail(target_.empty() ? ENOENT : EISDIR);
    const std::string stem = (fs::path(target_).parent_path() / ".graftwright-").string() + std::to_string(getpid());
    for (int n = 1; file_ < 0; ++n) {
        beside_ = stem + "-" + std::to_string(n) + ".new";
        file_ = open(beside_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (file_ < 0 && errno != EEXIST) fail(errno);
    }
}

void WholeFile::add(std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = write(file_, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) fail(errno);
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
}

void WholeFile::put_in_place() {
    // Pipes and some network disks know no flushing, which is no failure.
    if (!beside_.empty() && fsync(file_) != 0 && errno != EINVAL && errno != ENOTSUP) fail(errno);
    const int closed = close(file_);
    file_ = -1;
    if (closed != 0) fail(errno);
    if (beside_.empty()) return;
    if (std::rename(beside_.c_str(), target_.c_str()) != 0) fail(errno);
    beside_.clear();
}

WholeFile::~WholeFile() {
    if (file_ >= 0) close(file_);
    if (!beside_.empty()) unlink(beside_.c_str());
}

void WholeFile::fail(int error) const {
    throw std::runtime_error("cannot write " + path_ + ": " + std::generic_category().message(error));
}

void write_whole(const std::string& path, std::string_view bytes) {
    WholeFile file(path);
    file.add(bytes);
    file.put_in_place();
}

}  // namespace graftwright
