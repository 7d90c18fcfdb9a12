// Two programs at once, and a program that dies in the middle.
#include <chrono>
#include <csignal>
#include <thread>
#include <unistd.h>

#include <sys/wait.h>

#include "backends.h"
#include "made_entries.h"

using namespace graftwright;
using namespace graftwright::test;

namespace {

// Runs work in a process of its own; its exit code is 0 where work returned.
template <typename Work>
pid_t in_a_process(Work work) {
    const pid_t child = fork();
    if (child != 0) return child;
    int code = 1;
    try {
        work();
        code = 0;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "child: %s\n", error.what());
    }
    _exit(code);  // nothing of the parent's is cleaned up twice
}

int exit_code_of(pid_t child) {
    int status = 0;
    waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace

ON_EVERY_BACK_END("two programs make one logbook and write it at once, and nothing is lost or doubled") {
    const LogbookPlace place = backend.fresh();
    std::vector<pid_t> children;
    for (int child = 0; child < 2; ++child) {
        children.push_back(in_a_process([&] {
            Logbook logbook = opened(place);
            for (int n = 0; n < 60; ++n) {
                // Every third attempt is the other's too.
                (void)logbook.add(made_entry(n, n % 3 == 0 ? "both" : "child " + std::to_string(child), "sixteen", 4));
            }
        }));
    }
    for (const pid_t child : children) CHECK(exit_code_of(child) == 0);
    Logbook logbook = opened(place);
    CHECK(logbook.count() == 20 + 2 * 40);
    for (const Entry& entry : all_entries(logbook)) CHECK(entry.per_bite.size() == 4);
}

ON_EVERY_BACK_END("a program killed in the middle loses nothing that it had confirmed") {
    const LogbookPlace place = backend.fresh();
    { const Logbook made = opened(place); }
    int begin = 0;
    for (const int milliseconds : {40, 90, 150, 230}) {
        int confirmed[2];
        REQUIRE(pipe(confirmed) == 0);
        const pid_t child = in_a_process([&] {
            Logbook logbook = opened(place);
            for (int n = begin;; ++n) {
                (void)logbook.add(made_entry(n, "killed", "sixteen", 16));
                if (write(confirmed[1], &n, sizeof n) != static_cast<ssize_t>(sizeof n)) return;
            }
        });
        close(confirmed[1]);
        // Not before the first is confirmed, then at some moment of a later one.
        int last = -1, n = 0;
        REQUIRE(read(confirmed[0], &last, sizeof last) == static_cast<ssize_t>(sizeof last));
        std::this_thread::sleep_for(std::chrono::milliseconds(milliseconds));
        kill(child, SIGKILL);
        CHECK(exit_code_of(child) == -1);
        while (read(confirmed[0], &n, sizeof n) == static_cast<ssize_t>(sizeof n)) last = n;
        close(confirmed[0]);

        // All confirmed ones are there, whole; the one in hand is there whole or not at all.
        Logbook logbook = opened(place);
        const std::vector<Entry> entries = all_entries(logbook, {"killed", {}});
        CHECK(entries.size() >= static_cast<std::size_t>(last) + 1);
        CHECK(entries.size() <= static_cast<std::size_t>(last) + 2);
        for (std::size_t i = 0; i < entries.size(); ++i) {
            const Entry made = made_entry(static_cast<int>(i), "killed", "sixteen", 16);
            CHECK(entries[i].id == made.id);
            CHECK(entries[i].per_bite == made.per_bite);
            CHECK(entries[i].attempt_text == made.attempt_text);
        }
        CHECK(logbook.add(made_entry(begin, "alive")));
        begin = static_cast<int>(entries.size());
    }
}
