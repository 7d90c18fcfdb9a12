// The logbook in trouble, from outside: passwords that must not be said, servers that do not answer, folders that
// may only be read.
#include <chrono>
#include <unistd.h>

#include <catch2/catch.hpp>

#include "../scenes/misspelt_urls.h"
#include "../scenes/silent_server.h"
#include "running.h"
#include "tools.h"

using namespace graftwright::test;
using Catch::Matchers::Contains;

namespace {

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

std::string small_attempt(const Folder& folder) { return folder.write("a.json", even_attempt(2)); }

// Before a command of the shell's, where we are root, who may write everywhere.
std::string as_nobody() { return geteuid() == 0 ? "setpriv --reuid=65534 --regid=65534 --clear-groups " : ""; }

}  // namespace

TEST_CASE("logbook: no command says the password of a URL, however it is misspelt", "[app][bad-input]") {
    const Folder folder;
    const std::string attempt = small_attempt(folder);
    const std::vector<std::string> urls = misspelt_urls();
    // A step that shares no factor with the list's own rhythm.
    for (std::size_t i = 0; i < urls.size(); i += 29) {
        INFO(urls[i]);
        const Ran ran = run({"logbook", "list", "--logbook", urls[i]});
        CHECK_FALSE(tells_the_secret(ran.out + ran.err));
        CHECK(ran.code != 0);
        CHECK(ran.err.size() > 20);
        // Behind the wrong word, or none.
        for (const std::vector<std::string>& arguments : {std::vector<std::string>{"logbook", "list", urls[i]},
                                                          {"logbook", "list", "--logbok=" + urls[i]},
                                                          {urls[i]},
                                                          {"logbook", "export", "--format", urls[i]},
                                                          {"play", "--no-window", "--logbook", urls[i]}}) {
            const Ran elsewhere = run(arguments);
            CHECK_FALSE(tells_the_secret(elsewhere.out + elsewhere.err));
            CHECK(elsewhere.code != 0);
        }
    }
    const std::string url = "postgresql://odo:" + kSecretHead + "@127.0.0.1:9/unit";
    for (const std::vector<std::string>& arguments : {std::vector<std::string>{"score", attempt, "--logbook", url},
                                                      {"score", url},
                                                      {"check", url},
                                                      {"score", attempt, "--scenario", url},
                                                      {"score", attempt, "--svg=" + url},
                                                      {"logbook", "merge", url, "--logbook", folder.file("own.sqlite")},
                                                      {"play", "--no-window", "--hand", url},
                                                      {"logbook", "export", "--logbook", url, "--out", "x.csv"}}) {
        INFO(arguments[0] << " " << arguments[1]);
        const Ran ran = run(arguments);
        CHECK(ran.code != 0);
        CHECK_FALSE(tells_the_secret(ran.out + ran.err));
    }
}

TEST_CASE("logbook: a misspelt URL makes no file", "[app][bad-input]") {
    const Folder folder;
    const std::string attempt = small_attempt(folder);
    for (const char* url : {"postgresql:/127.0.0.1/unit", "postgres:unit", "host=127.0.0.1 dbname=unit"}) {
        const Ran ran = tool("cd " + quoted(folder.file("")) + " && " + quoted(GRAFTWRIGHT_PROGRAM) + " score " +
                             quoted(attempt) + " --logbook " + quoted(url));
        INFO(ran.out);
        CHECK(ran.code == 1);
        CHECK_THAT(ran.out, Contains("postgresql://"));
    }
    CHECK(std::distance(std::filesystem::directory_iterator(folder.file("")), {}) == 1);
}

TEST_CASE("logbook: a server that never answers is given up by every command, and results are printed all the same",
          "[app][slow]") {
    const Folder folder;
    const SilentServer server(SilentServer::Manner::says_nothing);
    const std::string attempt = small_attempt(folder), url = server.url("?connect_timeout=2");
    const std::string table = run({"score", attempt}).out;
    for (const std::vector<std::string>& arguments :
         {std::vector<std::string>{"score", attempt, "--logbook", url},
          {"logbook", "list", "--logbook", url},
          {"logbook", "curve", "--logbook", url},
          {"logbook", "export", "--logbook", url},
          {"logbook", "merge", url, "--logbook", folder.file("own.sqlite")}}) {
        INFO(arguments[0] << " " << arguments[1]);
        const auto start = std::chrono::steady_clock::now();
        const Ran ran = run(arguments);
        CHECK(ran.code == 3);
        CHECK_THAT(ran.err, Contains("no answer within 2 s") && !Contains("sesame"));
        CHECK(seconds_since(start) < 10.0);
        CHECK(ran.out == (arguments[0] == "score" ? table : ""));
    }
}

TEST_CASE("logbook: one in a folder that may only be read is listed, drawn and exported, and not written",
          "[app][slow]") {
    const Folder folder;
    std::filesystem::permissions(folder.file(""), std::filesystem::perms(0755));
    const std::string attempt = small_attempt(folder), book = folder.file("shelf/book.sqlite");
    std::filesystem::create_directory(folder.file("shelf"));
    REQUIRE(run({"score", attempt, "--logbook", book}).code == 0);
    const std::string list = run({"logbook", "list", "--logbook", book}).out;
    // Nobody may not look into every folder that a program is built in.
    const std::string program = folder.file("graftwright"), levels = folder.file("levels");
    std::filesystem::copy_file(GRAFTWRIGHT_PROGRAM, program);
    std::filesystem::copy(kRoot + "/levels", levels, std::filesystem::copy_options::recursive);
    REQUIRE(tool("chmod -R a+rX " + quoted(folder.file("")) + " && chmod 444 " + quoted(book) + " && chmod 555 " +
                 quoted(folder.file("shelf")))
                .code == 0);
    const auto as_reader = [&](const std::string& arguments) {
        return tool("cd / && " + as_nobody() + "env GRAFTWRIGHT_LEVELS=" + quoted(levels) + " " + quoted(program) +
                    " " + arguments + " --logbook " + quoted(book));
    };
    const Ran listed = as_reader("logbook list"), scored = as_reader("score " + quoted(attempt));
    CHECK(listed.code == 0);
    CHECK(listed.out == list);
    for (const char* command : {"logbook curve", "logbook export", "logbook export --format html"}) {
        INFO(command);
        CHECK(as_reader(command).code == 0);
    }
    INFO(scored.out);
    CHECK(scored.code == 3);
    CHECK_THAT(scored.out,
               Contains("Sixteen single bites") && Contains(book + ": the logbook may only be read, not written"));
    CHECK(std::distance(std::filesystem::directory_iterator(folder.file("shelf")), {}) == 1);
    std::filesystem::permissions(folder.file("shelf"), std::filesystem::perms(0755));
}
