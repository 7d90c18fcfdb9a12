// Permissions as they are felt by somebody who is not root: root may write wherever he likes.
#pragma once

#include <cstdio>
#include <exception>
#include <grp.h>
#include <unistd.h>

#include <sys/wait.h>

namespace graftwright::test {

inline constexpr unsigned kNobody = 65534;

// Runs work in a process of its own, as nobody where we are root. True: it returned true.
template <typename Work>
[[nodiscard]] bool holds_for_nobody(Work work) {
    const pid_t child = fork();
    if (child == 0) {
        bool held = false;
        try {
            const bool changed =
                geteuid() != 0 || (setgroups(0, nullptr) == 0 && setresgid(kNobody, kNobody, kNobody) == 0 &&
                                   setresuid(kNobody, kNobody, kNobody) == 0);
            held = changed && work();
        } catch (const std::exception& error) {
            std::fprintf(stderr, "as nobody: %s\n", error.what());
        }
        _exit(held ? 0 : 1);  // nothing of the parent's is cleaned up twice
    }
    int status = 0;
    waitpid(child, &status, 0);
    return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

}  // namespace graftwright::test
