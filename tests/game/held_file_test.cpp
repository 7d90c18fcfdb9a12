// One window at a time, and nobody is kept out by the dead.
#include "game/held_file.h"

#include <cerrno>
#include <csignal>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <sys/file.h>
#include <sys/syscall.h>
#include <sys/wait.h>

#include "../scenes/temporary_folder.h"
#include "no_locks.h"

namespace graftwright::test {

bool& NoLocks::now() {
    static bool no_locks = false;
    return no_locks;
}

}  // namespace graftwright::test

// Stands before the system library's in this test program.
extern "C" int flock(int fd, int operation) noexcept {
    if (!graftwright::test::NoLocks::now()) return static_cast<int>(::syscall(SYS_flock, fd, operation));
    errno = ENOLCK;
    return -1;
}

namespace graftwright {
namespace {

// Another process that holds a file until it is killed.
class Holder {
  public:
    explicit Holder(const std::string& path) {
        int ready[2];
        REQUIRE(::pipe(ready) == 0);
        child_ = ::fork();
        if (child_ == 0) {
            const HeldFile file(path, HeldFile::Open::or_make);
            const char word = file.held() ? 'y' : 'n';
            if (::write(ready[1], &word, 1) != 1) ::_exit(1);
            for (;;) ::pause();
        }
        char word = 'n';
        REQUIRE(::read(ready[0], &word, 1) == 1);
        CHECK(word == 'y');
        ::close(ready[0]);
        ::close(ready[1]);
    }
    ~Holder() { kill(); }
    Holder(const Holder&) = delete;
    Holder& operator=(const Holder&) = delete;
    void kill() {
        if (child_ <= 0) return;
        ::kill(child_, SIGKILL);
        ::waitpid(child_, nullptr, 0);
        child_ = 0;
    }

  private:
    pid_t child_ = 0;
};

TEST_CASE("held file: another process has it until it is killed, and nothing stays locked", "[game][journal][quick]") {
    const test::TemporaryFolder folder;
    const std::string path = folder.file("journal.jsonl");
    Holder other(path);
    {
        const HeldFile file(path, HeldFile::Open::existing);
        CHECK_FALSE(file.held());
        CHECK(file.elsewhere());
    }
    other.kill();
    const HeldFile file(path, HeldFile::Open::existing);
    CHECK(file.held());
    CHECK(file.locked());
    CHECK_FALSE(file.made());
    CHECK(HeldFile(path, HeldFile::Open::or_make).elsewhere());  // in one process too
}

TEST_CASE("held file: without locks it is had all the same, and says that it is not locked", "[game][journal][quick]") {
    const test::TemporaryFolder folder;
    const test::NoLocks no_locks;
    const HeldFile file(folder.file("journal.jsonl"), HeldFile::Open::or_make);
    CHECK(file.held());
    CHECK(file.made());
    CHECK_FALSE(file.locked());
    CHECK_FALSE(file.elsewhere());
}

TEST_CASE("held file: what can't be opened is not held, and says why", "[game][journal][quick]") {
    const HeldFile file("/nowhere/journal.jsonl", HeldFile::Open::or_make);
    CHECK_FALSE(file.held());
    CHECK_FALSE(file.elsewhere());
    CHECK(file.error() == ENOENT);
}

}  // namespace
}  // namespace graftwright
