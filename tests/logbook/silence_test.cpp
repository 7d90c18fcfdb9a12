// Servers that never answer: the logbook gives up in time, says so, and never says the password.
#include <chrono>
#include <csignal>

#include <soci/soci.h>

#include "../scenes/silent_server.h"
#include "logbook/database.h"
#include "made_entries.h"
#include "postgres_server.h"

#if defined(__SANITIZE_ADDRESS__)
// SOCI keeps what was left of a connection that failed.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() { return "leak:libsoci_postgresql"; }
extern "C" const char* __lsan_default_options();
extern "C" const char* __lsan_default_options() { return "print_suppressions=0"; }
#endif

using namespace graftwright;
using namespace graftwright::test;
using Catch::Matchers::Contains;

namespace {

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

LogbookOptions in_a_hurry() {
    LogbookOptions options;
    options.limits.connect_s = 2;  // the least that the library takes
    options.limits.answer_s = 3;   // a busy machine's server may take its time
    return options;
}

// Of whatever work throws.
template <typename Work>
std::string words_of(const Work& work) {
    try {
        work();
    } catch (const std::exception& error) {
        return error.what();
    }
    return "";
}

}  // namespace

TEST_CASE("PostgreSQL: a server that never answers is given up in time, in whatever way it is silent",
          "[logbook][postgresql]") {
    for (const auto manner :
         {SilentServer::Manner::unreachable, SilentServer::Manner::says_nothing, SilentServer::Manner::lets_in}) {
        INFO(static_cast<int>(manner));
        const SilentServer server(manner);
        const auto start = std::chrono::steady_clock::now();
        const std::string words = words_of([&] { (void)Logbook::open(LogbookPlace::of(server.url()), in_a_hurry()); });
        CHECK_THAT(words, Contains("no answer within ") && Contains("127.0.0.1") && !Contains("sesame"));
        CHECK(seconds_since(start) < 10.0);
    }
}

TEST_CASE("PostgreSQL: the URL's own time limit counts, and none that is no limit is taken", "[logbook][postgresql]") {
    const SilentServer server(SilentServer::Manner::says_nothing);
    const auto start = std::chrono::steady_clock::now();
    CHECK_THAT(words_of([&] { (void)Logbook::open(LogbookPlace::of(server.url("?connect_timeout=3"))); }),
               Contains("no answer within 3 s"));
    CHECK(seconds_since(start) < 9.0);
    for (const char* none : {"0", "-1", "1e9", "ten"})
        CHECK_THAT(LogbookPlace::of(server.url(std::string("?connect_timeout=") + none)).fault(),
                   Contains("1 to 600 seconds"));
}

TEST_CASE("PostgreSQL: a server frozen in the middle is given up, and the attempt goes in another time",
          "[logbook][postgresql][slow]") {
    PostgresBackend server;
    const LogbookPlace place = server.fresh();
    std::string words;
    {
        Logbook logbook = opened(place, in_a_hurry());
        REQUIRE(logbook.add(made_entry(1)));
        const pid_t behind = server.process_behind(place);
        REQUIRE(kill(behind, SIGSTOP) == 0);
        const auto start = std::chrono::steady_clock::now();
        words = words_of([&] { (void)logbook.add(made_entry(2)); });
        CHECK_THAT(words, Contains("no answer within 3 s") && Contains("127.0.0.1"));
        // What is lost stays lost, without another wait.
        CHECK_FALSE(words_of([&] { (void)logbook.count(); }).empty());
        CHECK(seconds_since(start) < 8.0);
        kill(behind, SIGCONT);
    }
    CHECK(opened(place).add(made_entry(2)));
    CHECK(opened(place).count() == 2);
}

TEST_CASE("PostgreSQL: a logbook on a server that froze while nothing was asked closes in time",
          "[logbook][postgresql][slow]") {
    PostgresBackend server;
    const LogbookPlace place = server.fresh();
    std::optional<Logbook> logbook = opened(place, in_a_hurry());
    REQUIRE(logbook->add(made_entry(1)));  // its statements stay prepared, and are given back at the end
    const pid_t behind = server.process_behind(place);
    REQUIRE(kill(behind, SIGSTOP) == 0);
    const auto start = std::chrono::steady_clock::now();
    logbook.reset();
    CHECK(seconds_since(start) < 8.0);
    kill(behind, SIGCONT);
}

TEST_CASE("PostgreSQL: many answers in one transaction may take longer than a single one",
          "[logbook][postgresql][slow]") {
    PostgresBackend server;
    LogbookLimits limits;
    limits.answer_s = 2;
    Database database(server.fresh(), limits);
    const auto sleep = [&](const char* seconds, int times) {
        return database.write([&](soci::session& session) {
            for (int n = 0; n < times; ++n) session << "SELECT pg_sleep(" << seconds << ")";
            return true;
        });
    };
    CHECK(sleep("0.5", 6));
    CHECK_THAT(words_of([&] { (void)sleep("60", 1); }), Contains("no answer within 2 s"));
}
