// What a file, its name or an argument holds is shown and never obeyed: no byte of it steers the terminal.
#include <algorithm>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "base/plain_text.h"
#include "running.h"

using namespace graftwright::test;
using Catch::Matchers::Contains;
using graftwright::terminal_text;
using nlohmann::json;

namespace {

// Fit for a terminal: valid UTF-8, and no control character but our line ends.
void require_fit(const Ran& ran) {
    INFO(ran.out << "\n" << ran.err);
    CHECK(ran.out == terminal_text(ran.out));
    CHECK(ran.err == terminal_text(ran.err));
}

// A sound attempt whose trainee is called so; `name` as JSON has it between the quotes.
std::string attempt_of(const std::string& name) {
    std::string text = even_attempt(2);
    return text.insert(1, "\"trainee\": \"" + name + "\",");
}

const std::string kHostile = R"(\u001b[31mred\u007f\u009b2J\u202Eevil\nscore        100 of 100)";

}  // namespace

TEST_CASE("terminal: control bytes of an attempt do not reach it", "[app][bad-input]") {
    const std::string attempt = kData + "good_control_bytes.json";
    const Ran table = run({"score", "--no-shares", "--explain", attempt});
    CHECK(table.code == 0);
    CHECK_THAT(table.out, Contains("ctrl\xEF\xBF\xBD[31mred"));
    require_fit(table);
    const Ran line = run({"score", "--no-shares", "--json", attempt});
    CHECK(json::accept(line.out));
    require_fit(line);
}

TEST_CASE("terminal: a line end in a name makes no line of the table", "[app][bad-input]") {
    const Ran ran = run({"score", "-"}, attempt_of(kHostile));
    require_fit(ran);
    const std::vector<std::string> lines = lines_of(ran.out);
    CHECK(std::none_of(lines.begin(), lines.end(), [](const std::string& line) { return line.starts_with("score"); }));
    CHECK_THAT(lines.at(0), Contains("evil\xEF\xBF\xBDscore"));
}

TEST_CASE("terminal: the logbook takes no name with control bytes, and shows one that turns text around as it is",
          "[app][bad-input]") {
    const Folder folder;
    const std::string book = folder.file("book.sqlite");
    const Ran refused = run({"score", "--json", "-", "--logbook", book}, attempt_of(kHostile));
    CHECK(refused.code == 1);
    CHECK(json::accept(refused.out));
    CHECK(refused.err == "logbook: a trainee's name is UTF-8 without control characters\n");
    REQUIRE(run({"score", "--json", "-", "--logbook", book}, attempt_of("\\u202Elive")).code == 0);
    for (const char* command : {"list", "curve"}) {
        const Ran ran = run({"logbook", command, "--logbook", book});
        CHECK(ran.code == 0);
        CHECK_THAT(ran.out, Contains("\xEF\xBF\xBDlive"));
        require_fit(ran);
    }
    // Data keeps what was said, escaped as its format has it.
    const Ran exported = run({"logbook", "export", "--format", "json", "--logbook", book});
    CHECK(json::parse(exported.out).at("attempts").at(0).at("trainee").get<std::string>() == "\u202Elive");
}

TEST_CASE("terminal: messages show a file's keys, values and bytes, and obey none", "[app][bad-input]") {
    const Folder folder;
    std::string unknown = even_attempt(2), wrong = even_attempt(2);
    unknown.insert(1, R"("\u001b[2Jkey\u009b\u202e": 1,)");
    wrong.insert(
        1,
        R"("started": ["\u001b]0;title\u0007"], "events": [{"t_s": 0, "what": "\u001b[31m\n"}, {"\u001b[1m": {}}],)");
    for (const std::string& file : {folder.write("unknown.json", unknown), folder.write("wrong.json", wrong),
                                    kData + "byte_outside_a_text.json", kData + "not_utf8.json"}) {
        const Ran ran = run({"check", file});
        CHECK(ran.code == 1);
        require_fit(ran);
        for (const std::string& line : lines_of(ran.err)) CHECK(line.starts_with(file));
    }
}

TEST_CASE("terminal: names of files and arguments are shown and not obeyed", "[app][bad-input]") {
    const Folder folder;
    const std::string hostile = folder.write("\x1B[31m\xFF\nred.json", "{");
    for (const std::vector<std::string>& arguments : std::vector<std::vector<std::string>>{
             {"check", hostile},
             {"score", hostile},
             {"score", folder.write("a.json", even_attempt(2)), "--report", folder.file("\x1B[31m/no.html")},
             {"study", hostile, "--n", "1"},
             {"study", "sixteen", "--n", "1", "--shard", "\x1B[31m"},
             {"study", "\x1B[31m", "--n", "1"},
             {"logbook", "list", "--logbook", hostile + "none"},
             {"play", "\x1B[31m"},
             {"\x1B[31m"},
             {"score", "--\x1B[31m", "x"}}) {
        const Ran ran = run(arguments);
        CHECK(ran.code > 0);
        CHECK_FALSE(ran.err.empty());
        require_fit(ran);
    }
}

TEST_CASE("levels: a folder that is not there is named, not the attempt that asks for a level", "[app][bad-input]") {
    const Folder folder;
    const std::string attempt = folder.write("a.json", even_attempt(2)), nowhere = folder.file("nowhere");
    const auto with_levels = [&](const std::string& levels, const std::string& rest) {
        const std::string err = folder.file("err");
        const std::string line = "GRAFTWRIGHT_LEVELS=" + quoted(levels) + " " + quoted(GRAFTWRIGHT_PROGRAM) + " " +
                                 rest + " >/dev/null 2>" + quoted(err);
        const int status = std::system(line.c_str());
        return std::to_string(WEXITSTATUS(status)) + " " + text_of(err);
    };
    const std::string none =
        "1 " + nowhere + ": there is no such folder, expected the one with the level \"sixteen\"\n";
    CHECK(with_levels(nowhere, "score " + quoted(attempt)) == none);
    CHECK(with_levels(nowhere, "score - <" + quoted(attempt)) == none);
    CHECK(with_levels(nowhere, "check " + quoted(attempt)) == none);
    CHECK(with_levels(nowhere, "study sixteen --n 1") == none);
    CHECK(with_levels(nowhere, "play sixteen") == none);
    std::filesystem::create_directory(nowhere);
    CHECK(with_levels(nowhere, "study sixteen --n 1") ==
          "1 " + nowhere + ": the folder holds no level, expected \"sixteen\" there\n");
    CHECK_THAT(with_levels(kRoot + "/levels", "study sixten --n 1"),
               Contains(kRoot + "/levels: no scenario has the id \"sixten\" (did you mean \"sixteen\"?), expected one of "));
}
