// The program on a machine that lacks something: disk, display, threads, memory, letters. Exit 3 with a
// sentence, what could be worked out is printed, and nothing that was there is lost.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "running.h"

using namespace graftwright::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using nlohmann::json;

namespace {

const std::string kMachine = "graftwright: the machine is at fault: ";

// A line of shell in which "$program" is the program.
Ran in_shell(const std::string& line) {
    const Folder folder;
    const std::string out = folder.file("out"), err = folder.file("err");
    const std::string whole = "unset GRAFTWRIGHT_LEVELS; program=" + quoted(GRAFTWRIGHT_PROGRAM) +
                              "; export program; ( " + line + " ) >" + quoted(out) + " 2>" + quoted(err) +
                              " </dev/null";
    const int status = std::system(whole.c_str());
    Ran ran;
    if (WIFEXITED(status) && WEXITSTATUS(status) < 128) ran.code = WEXITSTATUS(status);
    ran.out = text_of(out);
    ran.err = text_of(err);
    return ran;
}

std::size_t files_in(const Folder& folder) {
    std::size_t count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder.file("")))
        count += entry.path().empty() ? 0U : 1U;
    return count;
}

bool has_files_limit() { return in_shell("ulimit -f 16 && true").code == 0; }

}  // namespace

TEST_CASE("full disk: the result is printed and the older report stays", "[app]") {
    REQUIRE(has_files_limit());
    const Folder folder;
    const std::string attempt = folder.write("a.json", even_attempt(4)),
                      report = folder.write("r.html", "the older one");
    for (const char* option : {"--report", "--svg", "--png"}) {
        // 16 blocks of 512 bytes: room for the table, not for a page or a picture.
        const Ran ran = in_shell("ulimit -f 16; \"$program\" score --no-shares " + quoted(attempt) + " " + option +
                                 " " + quoted(report));
        INFO(option << ran.err);
        CHECK(ran.code == 3);
        CHECK_THAT(ran.out, Contains("keratometry") && Contains("Training only"));
        CHECK(ran.err == kMachine + "cannot write " + report + ": File too large\n");
        CHECK(text_of(report) == "the older one");
        CHECK(files_in(folder) == 2);
    }
}

TEST_CASE("full disk: a scripted hand's result is printed though its attempt can't be saved", "[app][slow]") {
    REQUIRE(has_files_limit());
    const Folder folder;
    const std::string saved = folder.file("saved.json"), hand = quoted(kRoot + "/levels/hands/one_bite.json");
    const Ran ran = in_shell("ulimit -f 2; \"$program\" play --no-window --hand " + hand + " --save " + quoted(saved));
    INFO(ran.err);
    CHECK(ran.code == 3);
    CHECK_THAT(ran.out, Contains("tied, nothing scored"));
    CHECK_THAT(ran.err, Contains("cannot write " + saved + ": File too large"));
    CHECK(files_in(folder) == 0);
}

TEST_CASE("full disk: an export that can't be written says where and why", "[app]") {
    const Folder folder;
    const std::string attempt = folder.write("a.json", even_attempt(2)), book = folder.file("book.sqlite");
    REQUIRE(run({"score", attempt, "--logbook", book}).code == 0);
    const std::string page = folder.file("no/such/folder/group.html");
    const Ran ran = run({"logbook", "export", "--logbook", book, "--out", page});
    CHECK(ran.code == 3);
    CHECK(ran.err == kMachine + "cannot write " + page + ": No such file or directory\n");
}

TEST_CASE("logbook: one that can't be opened or written costs no result", "[app]") {
    const Folder folder;
    const std::string attempt = folder.write("a.json", even_attempt(4)),
                      torn = folder.write("b", std::string(5000, 'x'));
    const Ran nowhere = run({"score", "--json", "--no-shares", attempt, "--logbook", "/proc/no/such/place.sqlite"});
    CHECK(nowhere.code == 3);
    CHECK_THAT(nowhere.err, StartsWith(kMachine));
    CHECK(json::accept(nowhere.out));
    const Ran damaged = run({"score", "--json", "--no-shares", attempt, attempt, "--logbook", torn});
    CHECK(damaged.code == 1);
    CHECK(lines_of(damaged.out).size() == 2);
}

TEST_CASE("pictures: standard output by its device's name is a place too, after the result", "[app]") {
    const Folder folder;
    const std::string attempt = folder.write("a.json", even_attempt(2)), out = folder.file("out.txt");
    const std::string score = "\"$program\" score " + quoted(attempt) + " --svg /dev/stdout";
    const Ran piped = in_shell(score + " | cat");
    const Ran to_file = in_shell(score);
    CHECK_THAT(piped.out, StartsWith("Sixteen single bites") && Contains("<svg") && Contains("</svg>"));
    CHECK(to_file.code == 0);
    CHECK(to_file.out == piped.out);
}

TEST_CASE("display: one where nobody answers is said, not died of", "[app]") {
    const Ran play = in_shell("DISPLAY=:91 \"$program\" play");
    CHECK(play.code == 3);
    CHECK_THAT(play.err, Contains("no display here (DISPLAY is :91, and nobody answers there)"));
    const Ran unset = in_shell("unset DISPLAY; \"$program\" play");
    CHECK(unset.code == 3);
    CHECK_THAT(unset.err, Contains("no display here (DISPLAY is not set)"));
}

TEST_CASE("display: one that has no OpenGL is said, not died of", "[app]") {
    const Ran ran =
        in_shell("xvfb-run -a -s '-screen 0 640x480x24 -nolisten tcp -noreset -extension GLX' \"$program\" play");
    REQUIRE(ran.code != 127);
    CHECK(ran.code == 3);
    CHECK_THAT(ran.out + ran.err, Contains("which has no OpenGL"));  // xvfb-run joins the two
}

TEST_CASE("display: without arguments a dead one is as none, and the demonstration is scored", "[app][slow]") {
    const Ran ran = in_shell("DISPLAY=:91 \"$program\"");
    CHECK(ran.code == 0);
    CHECK_THAT(ran.err, Contains("nobody answers there") && Contains("even_sixteen.json"));
    CHECK_THAT(ran.out, Contains("keratometry"));
}

TEST_CASE("threads: a study runs on those that the machine gives, to the same rows", "[app]") {
    const std::string study = "\"$program\" study depth-alone --n 12 --jobs ";
    const Ran alone = in_shell(study + "1");
    REQUIRE(alone.code == 0);
    // The limit does not bind root; where nobody else can be, the starts that fail are tested in base.
    const std::string nobody = "setpriv --reuid=65534 --regid=65534 --clear-groups -- ";
    const bool root = geteuid() == 0;
    if (root && in_shell(nobody + quoted(GRAFTWRIGHT_PROGRAM) + " --version").code != 0) {
        WARN("the program can't be run as nobody here: not tested");
        return;
    }
    const Ran few = in_shell((root ? nobody : "") + "sh -c " +
                             quoted("ulimit -u 3; exec \"$program\" study depth-alone --n 12 --jobs 64"));
    INFO(few.err);
    CHECK(few.code == 0);
    CHECK(few.out == alone.out);
    const Ran many = in_shell(study + "64");
    CHECK(many.out == alone.out);
}

// The instrumented program needs all the address space there is.
#if !defined(__SANITIZE_ADDRESS__)
TEST_CASE("memory: where there is not enough, a sentence says so", "[app]") {
    const Folder folder;
    const std::string attempt = quoted(folder.write("a.json", even_attempt(16)));
    bool fell_short = false;
    // How much is loaded before the first line runs is the machine's; from too little to enough, each
    // answer is the sentence or the result.
    for (int megabytes = 100; megabytes <= 400; megabytes += 20) {
        const Ran ran = in_shell("ulimit -v " + std::to_string(1024 * megabytes) +
                                 "; \"$program\" score --json --no-shares " + attempt);
        INFO(megabytes << " MB: " << ran.code << "\n" << ran.err);
        if (ran.err.find("error while loading shared libraries") != std::string::npos) continue;
        REQUIRE((ran.code == 0 || ran.code == 3));
        if (ran.code == 0) {
            CHECK(json::accept(ran.out));
        } else {
            CHECK(ran.err == kMachine + "there is not enough memory\n");
            CHECK(ran.out.empty());
            fell_short = true;
        }
    }
    CHECK(fell_short);
}

TEST_CASE("memory: where it lacks for a picture, the result is printed all the same", "[app][slow]") {
    const Folder folder;
    const std::string attempt = quoted(folder.write("a.json", even_attempt(4))), png = folder.file("a.png");
    const std::string score = "\"$program\" score --json --no-shares " + attempt;
    const std::string whole = in_shell(score).out;
    bool fell_short = false;
    // So wide a picture needs more than any machine's libraries and score together.
    for (int megabytes = 140; megabytes <= 300; megabytes += 20) {
        const Ran ran = in_shell("ulimit -v " + std::to_string(1024 * megabytes) + "; " + score +
                                 " --width 8000 --png " + quoted(png));
        INFO(megabytes << " MB: " << ran.code << "\n" << ran.err);
        if (ran.err.find("error while loading shared libraries") != std::string::npos) continue;
        REQUIRE((ran.code == 0 || ran.code == 3));
        CHECK((ran.out.empty() || ran.out == whole));
        CHECK(std::filesystem::exists(png) == (ran.code == 0));
        fell_short = fell_short || (ran.code == 3 && ran.out == whole);
        std::filesystem::remove(png);
    }
    CHECK(fell_short);
}
#endif

TEST_CASE("letters: a picture has them though Fontconfig knows no font, or says that there are none", "[app]") {
    const Folder folder;
    std::vector<std::string> pictures;
    const std::string empty = folder.write("fonts.conf", "<?xml version=\"1.0\"?><fontconfig></fontconfig>");
    for (const char* name : {"iiii", "WWWW"}) {
        std::string text = even_attempt(2);
        text.insert(1, std::string("\"trainee\": \"") + name + "\",");
        const std::string attempt = folder.write("a.json", text), png = folder.file(std::string(name) + ".png");
        const Ran ran = in_shell("FONTCONFIG_FILE=" + quoted(empty) + " \"$program\" score --no-shares " +
                                 quoted(attempt) + " --png " + quoted(png));
        INFO(ran.err);
        REQUIRE((ran.code == 0 || ran.code == 3));
        if (ran.code == 3) {
            CHECK_THAT(ran.err, Contains("there is no font for its letters"));
            return;
        }
        pictures.push_back(text_of(png));
    }
    CHECK(pictures[0] != pictures[1]);
}
