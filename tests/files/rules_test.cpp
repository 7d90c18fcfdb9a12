// What must be accepted although it is poor work, and where exactly acceptance ends.
#include <string>

#include <catch2/catch.hpp>

#include "files/reader.h"
#include "files/writer.h"
#include "shared.h"

using namespace graftwright;
using graftwright::test::lines_of;

namespace {

Bite bite_at(double angle_deg) {
    Bite bite;
    bite.graft_deg = angle_deg;
    bite.host_deg = angle_deg;
    return bite;
}

Attempt attempt_with(std::vector<Bite> bites) {
    Attempt attempt;
    attempt.bites = std::move(bites);
    return attempt;
}

// Through text, as a file would come.
std::vector<std::string> faults_of(const Attempt& attempt, const Scenario& scenario = {}) {
    const Result<Attempt> read = read_attempt_for(scenario, write_attempt(attempt), "a.json");
    return read.ok() ? std::vector<std::string>{} : lines_of(read.faults());
}

std::string text_with(const std::string& bites) {
    return R"({"format": "graftwright-attempt", "version": 1, "bites": [)" + bites + "]}";
}

}  // namespace

TEST_CASE("rules: one or two bites are no fault of the file", "[files][rules]") {
    CHECK(faults_of(attempt_with({bite_at(90)})).empty());
    CHECK(faults_of(attempt_with({bite_at(90), bite_at(270)})).empty());
}

TEST_CASE("rules: a bite as deep as the tissue is through and through, a micrometre more is a fault",
          "[files][rules]") {
    Bite bite = bite_at(90);
    bite.graft_depth_um = 550;
    bite.host_depth_um = 620;
    CHECK(faults_of(attempt_with({bite})).empty());
    bite.graft_depth_um = 551;
    CHECK(faults_of(attempt_with({bite})).size() == 1);
    bite.host_depth_um = 621;
    CHECK(faults_of(attempt_with({bite})).size() == 2);
}

TEST_CASE("rules: a thread holds its breaking load and no more", "[files][rules]") {
    Bite bite = bite_at(90);
    bite.tension_mN = 190;
    CHECK(faults_of(attempt_with({bite})).empty());
    bite.tension_mN = 190.01;
    CHECK(faults_of(attempt_with({bite})).size() == 1);
    Attempt running;
    running.runs.push_back({{}, 191, 0.1});
    for (int i = 0; i < 8; ++i) {
        RunBite one;
        one.graft_deg = one.host_deg = 45.0 * i;
        running.runs[0].bites.push_back(one);
    }
    CHECK(faults_of(running).size() == 1);
    running.runs[0].tension_mN = 12;
    CHECK(faults_of(running).empty());
    running.runs[0].bites[7].host_deg = running.runs[0].bites[7].graft_deg = 0.3;
    CHECK(faults_of(running).size() == 1);
}

TEST_CASE("rules: a new bite may take the place of one that was cut out", "[files][rules]") {
    Bite old = bite_at(90);
    const Attempt both = attempt_with({old, bite_at(270), bite_at(90.4)});
    CHECK(faults_of(both).size() == 1);
    old.removed = true;
    CHECK(faults_of(attempt_with({old, bite_at(270), bite_at(90.4)})).empty());
}

TEST_CASE("rules: one place means both edges, less than half a degree, across 12 and 3 o'clock alike",
          "[files][rules]") {
    Bite turned = bite_at(0);
    turned.graft_deg = 10;
    CHECK(faults_of(attempt_with({bite_at(0), turned})).empty());
    CHECK(faults_of(attempt_with({bite_at(0.1), bite_at(359.7)})).size() == 1);
    CHECK(faults_of(attempt_with({bite_at(0.1), bite_at(359.5)})).empty());
}

TEST_CASE("rules: a path flatter than straight is accepted", "[files][rules]") {
    Bite bite = bite_at(90);
    bite.graft_entry_deg = 1;  // atan(0.5 / 1.1) is 24°
    CHECK(faults_of(attempt_with({bite})).empty());
}

TEST_CASE("rules: a shifted bed shortens the rim on the side it moves to", "[files][rules]") {
    Scenario scenario;
    scenario.eye.bed_shift_mm = {0.8, 0.0};
    Bite bite = bite_at(0);
    bite.host_bite_mm = 2.0;
    CHECK(faults_of(attempt_with({bite}), scenario).size() == 1);
    bite.graft_deg = bite.host_deg = 180;  // the wide side
    CHECK(faults_of(attempt_with({bite}), scenario).empty());
}

TEST_CASE("rules: the attempt's own line is named", "[files][rules]") {
    Bite deep = bite_at(270);
    deep.host_depth_um = 700;
    const Attempt attempt = attempt_with({bite_at(90), deep});
    const Result<Attempt> read = read_attempt_for(Scenario{}, write_attempt(attempt), "a.json");
    REQUIRE_FALSE(read.ok());
    REQUIRE(read.faults().size() == 1);
    CHECK(read.faults()[0].text() ==
          "a.json:9: bite 2: host_depth_um is 700, expected at most the rim's thickness, 620 µm");
}

TEST_CASE("rules: a rule is not asked about a value that is itself at fault", "[files][rules]") {
    // Without its host_deg the second bite would fall back to 90 and "lie at one place".
    const Result<Attempt> read = read_attempt(text_with(R"({"host_deg": 90}, {"host_deg": "ninety"})"), "a.json");
    REQUIRE_FALSE(read.ok());
    CHECK(lines_of(read.faults()) ==
          std::vector<std::string>{"1: bite 2: host_deg is \"ninety\", expected a number from -360 to 720"});
}

TEST_CASE("reader: angles of any turn come out in one turn", "[files][reader]") {
    const auto angle = [](const std::string& written) {
        const Result<Attempt> read = read_attempt(text_with(R"({"host_deg": )" + written + "}"), "a.json");
        REQUIRE(read.ok());
        return read.value().bites[0].host_deg;
    };
    CHECK(angle("-90") == 270.0);
    CHECK(angle("450") == 90.0);
    CHECK(angle("360") == 0.0);
    CHECK(angle("720") == 0.0);
    CHECK(angle("-1e-300") == 0.0);
    CHECK(angle("-0.0") == 0.0);
}

TEST_CASE("reader: a whole number may be written with a zero fraction", "[files][reader]") {
    const Result<Scenario> read = read_scenario(
        R"({"format": "graftwright-scenario", "version": 1.0, "id": "x", "task": {"bites": 8.0}})", "s.json");
    REQUIRE(read.ok());
    CHECK(read.value().task.bites == 8);
}

TEST_CASE("reader: lines are right behind numbers at a line's end and with CR LF", "[files][reader]") {
    // The lexer reads the character after a number before it reports the number.
    const std::string lf =
        "{\"format\":\n\"graftwright-scenario\",\n\"version\"\n:\n1\n,\"id\":\"x\",\n"
        "\"order\":\n-5\n}\n";
    std::string crlf;
    for (const char c : lf) crlf += c == '\n' ? std::string("\r\n") : std::string(1, c);
    for (const std::string& text : {lf, crlf}) {
        const Result<Scenario> read = read_scenario(text, "s.json");
        REQUIRE_FALSE(read.ok());
        CHECK(lines_of(read.faults()) ==
              std::vector<std::string>{"8: order is -5, expected a whole number from 0 to 100000"});
    }
}

TEST_CASE("reader: thousands of faults are reported as two hundred and a count", "[files][reader]") {
    std::string events;
    for (int i = 0; i < 3000; ++i) events += i == 0 ? "{}" : ",{}";
    const Result<Attempt> read = read_attempt(
        R"({"format": "graftwright-attempt", "version": 1, "bites": [{}], "events": [)" + events + "]}", "a.json");
    REQUIRE_FALSE(read.ok());
    CHECK(read.faults().size() == 201);
    CHECK(read.faults().back().message.starts_with("and "));
}
