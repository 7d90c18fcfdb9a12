// The program from outside: exit codes, what goes where, and every bad file without a crash.
// 0 done, 1 the input is at fault, 2 wrong usage, 3 the machine is at fault. Results on standard output,
// and nothing else there.
#include <algorithm>
#include <regex>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "running.h"

using namespace graftwright::test;
using Catch::Matchers::Contains;
using nlohmann::json;

namespace {

std::vector<std::string> bad_files() {
    std::vector<std::string> files;
    for (const auto& entry : std::filesystem::directory_iterator(kData)) {
        const std::string name = entry.path().filename().string();
        if (entry.path().extension() == ".json" && name.rfind("good_", 0) != 0) files.push_back(entry.path().string());
    }
    std::sort(files.begin(), files.end());
    return files;
}

// Exit 1, nothing on standard output, and every line of standard error "file:line: message" or, where the
// file as a whole is at fault, "file: message".
void require_input_fault(const Ran& ran, const std::string& file) {
    INFO(file << "\n" << ran.err);
    CHECK(ran.code == 1);
    CHECK(ran.out.empty());
    const std::vector<std::string> lines = lines_of(ran.err);
    CHECK_FALSE(lines.empty());
    static const std::regex rest("(:[1-9][0-9]*)?: [^ ].*");
    for (const std::string& line : lines) {
        REQUIRE(line.rfind(file, 0) == 0);
        CHECK(std::regex_match(line.substr(file.size()), rest));
    }
}

}  // namespace

TEST_CASE("program: check passes what ships and says nothing", "[app]") {
    std::vector<std::string> arguments = {"check", kData + "good_ring.json"};
    for (const char* folder : {"/levels", "/levels/attempts"}) {
        for (const auto& entry : std::filesystem::directory_iterator(kRoot + folder)) {
            const std::string name = entry.path().filename().string();
            if (entry.path().extension() == ".json" && name.find(".schema.") == std::string::npos) {
                arguments.push_back(entry.path().string());
            }
        }
    }
    REQUIRE(arguments.size() >= 7);  // check, the ring, two levels, three attempts
    const Ran ran = run(arguments);
    INFO(ran.err);
    CHECK(ran.code == 0);
    CHECK(ran.out.empty());
    CHECK(ran.err.empty());
}

TEST_CASE("program: every bad file is refused by check with file and line", "[app][bad-input]") {
    const std::vector<std::string> files = bad_files();
    REQUIRE(files.size() > 40);
    for (const std::string& file : files) require_input_fault(run({"check", file}), file);
}

TEST_CASE("program: every bad file is refused by score with file and line", "[app][bad-input]") {
    for (const std::string& file : bad_files()) require_input_fault(run({"score", file, "--json"}), file);
}

TEST_CASE("program: every bad file is refused by ring with file and line", "[app][bad-input]") {
    for (const std::string& file : bad_files()) require_input_fault(run({"ring", file}), file);
}

TEST_CASE("program: faults of several files come together", "[app][bad-input]") {
    const Ran ran = run({"check", kData + "empty.json", kAttempts + "even_sixteen.json", kData + "unknown_key.json"});
    CHECK(ran.code == 1);
    CHECK_THAT(ran.err, Contains("empty.json:1: ") && Contains("unknown_key.json:8: ") && !Contains("even_sixteen"));
}

TEST_CASE("program: a file that is not there, or is a folder, is an input at fault", "[app][bad-input]") {
    const std::string missing = kRoot + "/no/such/file.json";
    for (const char* command : {"check", "score", "ring"}) {
        require_input_fault(run({command, missing}), missing);
        require_input_fault(run({command, kRoot}), kRoot);
    }
    CHECK(run({"score", kAttempts + "even_sixteen.json", "--scenario", missing}).code == 1);
    CHECK(run({"score", kAttempts + "even_sixteen.json", "--scenario", kAttempts + "tight_pair.json"}).code == 1);
}

TEST_CASE("program: a file of the wrong kind is an input at fault", "[app][bad-input]") {
    const std::string level = kRoot + "/levels/sixteen.json", attempt = kAttempts + "even_sixteen.json";
    require_input_fault(run({"score", level}), level);
    require_input_fault(run({"score", kData + "good_ring.json"}), kData + "good_ring.json");
    require_input_fault(run({"ring", attempt}), attempt);
}

TEST_CASE("program: wrong usage is told apart from bad input", "[app]") {
    CHECK_THAT(run({"sew", "x.json"}).err, Contains("no command \"sew\"; --help lists them"));
    CHECK(run({"scroe", "x.json"}).err == "graftwright: there is no command \"scroe\"; did you mean score?\n");
    CHECK_THAT(run({"score", "x.json", "--jsno"}).err, Contains("--jsno") && Contains("Did you mean --json?\n"));
    CHECK_THAT(run({"score", "x.json", "--reprot=x.html"}).err, Contains("Did you mean --report?\n"));
    CHECK_THAT(run({"logbook", "exprot"}).err, Contains("Did you mean export?\n"));
    CHECK_THAT(run({"logbook", "curve", "--anonymuos"}).err, Contains("Did you mean --anonymous?\n"));
    CHECK_THAT(run({"score", "x.json", "--nothing-like-it"}).err, !Contains("Did you mean"));
    CHECK_THAT(run({"study", "sixten", "--n", "1"}).err, Contains("\"sixten\" (did you mean \"sixteen\"?)"));
    for (const std::vector<std::string>& arguments :
         std::vector<std::vector<std::string>>{{"sew"},
                                               {"--nonsense"},
                                               {"score"},
                                               {"check"},
                                               {"ring"},
                                               {"score", "x.json", "--colour"},
                                               {"ring", "a.json", "b.json"}}) {
        const Ran ran = run(arguments);
        INFO(arguments.front() << "\n" << ran.err);
        CHECK(ran.code == 2);
        CHECK(ran.out.empty());
        CHECK_FALSE(ran.err.empty());
    }
}

TEST_CASE("program: help is a result, and says what the program is not", "[app]") {
    CHECK(run({"--version"}).code == 0);
    CHECK_THAT(run({"--version"}).out, Contains("graftwright 0."));
    const Ran help = run({"--help"});
    CHECK(help.code == 0);
    CHECK(help.err.empty());
    CHECK_THAT(help.out,
               Contains("score") && Contains("check") && Contains("ring") && Contains("not a medical device"));
    CHECK(run({"score", "--help"}).code == 0);
}

TEST_CASE("program: a dash is standard input", "[app][slow]") {
    const std::string attempt = even_attempt(4);
    const Folder folder;
    const std::string file = folder.write("attempt.json", attempt);
    const Ran from_file = run({"score", file, "--json", "--no-shares"});
    const Ran from_input = run({"score", "-", "--json", "--no-shares"}, attempt);
    CHECK(from_input.code == 0);
    CHECK(from_input.out == from_file.out);
    CHECK(run({"check", "-"}, attempt).code == 0);
    CHECK(run({"ring", "-"}, text_of(kData + "good_ring.json")).code == 0);
    const Ran bad = run({"check", "-"}, "{");
    CHECK(bad.code == 1);
    CHECK_THAT(bad.err, Contains("<stdin>:1: "));
}

TEST_CASE("program: one JSON line for each attempt, and a bad one among them costs only itself", "[app][slow]") {
    const Folder folder;
    const std::string four = folder.write("four.json", even_attempt(4)),
                      six = folder.write("six.json", even_attempt(6));
    const std::string bad = kData + "negative_tension.json";
    const Ran ran = run({"score", "--json", "--no-shares", four, bad, six});
    CHECK(ran.code == 1);
    CHECK_THAT(ran.err, Contains(bad + ":9: "));
    const std::vector<std::string> lines = lines_of(ran.out);
    REQUIRE(lines.size() == 2);
    CHECK(json::parse(lines[0]).at("bites") == 4);
    CHECK(json::parse(lines[1]).at("bites") == 6);
}

TEST_CASE("program: the same input gives the same bytes", "[app][slow]") {
    const std::string attempt = even_attempt(5);
    CHECK(run({"score", "-", "--json"}, attempt).out == run({"score", "-", "--json"}, attempt).out);
}

TEST_CASE("program: the scenario given wins over the one the attempt names", "[app][slow]") {
    const Ran ran =
        run({"score", "-", "--json", "--no-shares", "--scenario", kRoot + "/levels/small-donor.json"}, even_attempt(4));
    INFO(ran.err);
    REQUIRE(ran.code == 0);
    CHECK(json::parse(ran.out).at("scenario") == "small-donor");
}

TEST_CASE("program: the table is for people, reasons for marks on request", "[app][slow]") {
    const Ran table = run({"score", "-", "--no-shares"}, even_attempt(4));
    CHECK(table.code == 0);
    CHECK(table.err.empty());
    CHECK_THAT(table.out, Contains("keratometry") && Contains("leak pressure") && Contains("Training only"));
    CHECK_THAT(table.out, !Contains("how the score comes about"));
    const Ran explained = run({"score", "-", "--no-shares", "--explain"}, even_attempt(4));
    CHECK_THAT(explained.out,
               Contains("how the score comes about") && Contains("[Br J Ophthalmol table: 0.75–1.25 mm]"));
    // With --json the line stays alone on standard output.
    const Ran both = run({"score", "-", "--no-shares", "--explain", "--json"}, even_attempt(4));
    CHECK(lines_of(both.out).size() == 1);
    CHECK(json::accept(both.out));
    CHECK_THAT(both.err, Contains("how the score comes about"));
}

TEST_CASE("program: one or two bites are done, not refused, and say why there is no closure", "[app]") {
    const int bites = GENERATE(1, 2);
    const Ran ran = run({"score", "-", "--json"}, even_attempt(bites));
    CHECK(ran.code == 0);
    CHECK(ran.err.empty());
    const json out = json::parse(ran.out);
    CHECK(out.at("solver").at("converged") == false);
    CHECK_FALSE(out.at("solver").at("reason").get<std::string>().empty());
    CHECK(out.at("keratometry").at("cylinder_D").is_null());
    CHECK(out.at("score").at("total").is_null());
}

TEST_CASE("program: a disk that is full is the machine's fault", "[app]") {
    if (!std::filesystem::exists("/dev/full")) {
        WARN("no /dev/full here: not tested");
        SUCCEED();
        return;
    }
    CHECK(run({"score", "-", "--json"}, even_attempt(2), "/dev/full").code == 3);
}

TEST_CASE("program: without arguments a new user sees something work", "[app][slow]") {
    const Ran ran = run({});
    CHECK(ran.code == 0);
    CHECK_THAT(ran.out, Contains("keratometry") && Contains("not a medical device"));
}
