// The study command as a shell meets it: CSV and nothing else on standard output.
#include <catch2/catch.hpp>

#include "running.h"

using namespace graftwright::test;

TEST_CASE("study: a header, a row a hand, and the caution in every row", "[app]") {
    const Ran ran = run({"study", "depth-alone", "--n", "5", "--seed", "3"});
    CHECK(ran.code == 0);
    CHECK(ran.err.empty());
    const std::vector<std::string> lines = lines_of(ran.out);
    REQUIRE(lines.size() == 6);
    CHECK(lines[0].starts_with("scenario,hand,seed,trial,bites,"));
    for (std::size_t i = 1; i < lines.size(); ++i) {
        CHECK(lines[i].starts_with("depth-alone,expert,3," + std::to_string(i) + ",4,"));
        CHECK(lines[i].find("Training only") != std::string::npos);
        CHECK(lines[i].ends_with("\r"));  // RFC 4180: CR LF
    }
}

TEST_CASE("study: shards laid one after another are the whole, whatever the jobs", "[app]") {
    const auto rows = [](std::vector<std::string> more) {
        std::vector<std::string> arguments{"study", "even-tension", "--n", "10", "--hand", "careless"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        const Ran ran = run(arguments);
        REQUIRE(ran.code == 0);
        return ran.out.substr(ran.out.find('\n') + 1);
    };
    const std::string whole = rows({"--jobs", "1"});
    CHECK(rows({"--jobs", "3"}) == whole);
    CHECK(rows({"--shard", "1/3"}) + rows({"--shard", "2/3"}) + rows({"--shard", "3/3"}) == whole);
}

TEST_CASE("study: a closure's row carries its numbers, and the worst bite where asked", "[app][slow]") {
    const Ran ran = run({"study", "four-cardinals", "--n", "1", "--shares"});
    REQUIRE(ran.code == 0);
    const std::string row = lines_of(ran.out).at(1);
    int empty = 0;
    for (std::size_t i = 1; i < row.size(); ++i) empty += row[i] == ',' && row[i - 1] == ',' ? 1 : 0;
    CHECK(empty <= 2);  // the seal has no mark here, so no part; a passed hand has no verdict
}

TEST_CASE("study: wrong usage is 2, a level that is not there is 1", "[app][bad-input]") {
    CHECK(run({"study", "sixteen"}).code == 2);
    CHECK(run({"study", "sixteen", "--n", "0"}).code == 2);
    CHECK(run({"study", "sixteen", "--n", "3", "--hand", "lucky"}).code == 2);
    for (const char* shard : {"0/2", "3/2", "1", "1/2/3", "a/b", "1/"}) {
        INFO(shard);
        CHECK(run({"study", "sixteen", "--n", "3", "--shard", shard}).code == 2);
    }
    const Ran absent = run({"study", "no-such-level", "--n", "3"});
    CHECK(absent.code == 1);
    CHECK(absent.out.empty());
    CHECK(absent.err.find("no scenario has the id") != std::string::npos);
    const Ran small = run(
        {"study", "-", "--n", "3"},
        R"({"format": "graftwright-scenario", "version": 1, "id": "x", "task": {"pattern": "running", "bites": 2}})");
    CHECK(small.code == 1);
    CHECK(small.err.find("expected at least 3") != std::string::npos);
}

TEST_CASE("study: hands lay running threads too", "[app]") {
    const Ran running = run({"study", "running", "--n", "2", "--seed", "3"});
    CHECK(running.code == 0);
    CHECK(running.out.find("\nrunning,expert,") != std::string::npos);
}

TEST_CASE("score: a drill's attempt gets its verdict in words, also where one bite holds no chamber", "[app]") {
    const std::string attempt =
        R"({"format": "graftwright-attempt", "version": 1, "scenario": "first-bite", "bites": [{"graft_depth_um": 500,
            "host_depth_um": 300}]})";
    const Ran ran = run({"score", "-"}, attempt);
    CHECK(ran.code == 0);
    CHECK(ran.out.find("fewer than three bites") != std::string::npos);
    CHECK(ran.out.find("drill        Not yet: least depth 0.48 of the thickness, at least 0.80 asked: missed.") !=
          std::string::npos);
}
