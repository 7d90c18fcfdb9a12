// `score --report`, `--svg`, `--png` from outside: what is written, what is refused, and how it looks to a
// validator, a browser and a printer. A tool that is missing here fails its test: nothing is skipped. Python is
// Debian's own, which its packages are for.
#include <algorithm>
#include <array>
#include <cmath>
#include <regex>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "running.h"
#include "tools.h"

using namespace graftwright::test;
using Catch::Matchers::Contains;
using nlohmann::json;

namespace {

const std::string kHostileName = R"(<script>alert('x')</script> & \"N\" )";

std::string named_attempt(int bites) {
    std::string text = even_attempt(bites);
    text.insert(text.find("\"scenario\""), "\"trainee\": \"" + kHostileName + "\", ");
    return text;
}

// As long as the format allows.
std::string long_words(const std::string& once) {
    std::string words;
    while (words.size() < 200) words += once;
    return words.substr(0, 200);
}

// A level that asks everything and a title of 200 letters.
json strict_level() {
    json level = json::parse(text_of(kRoot + "/levels/sixteen.json"));
    level["id"] = "strict";
    level["title"] = long_words("Every limit broken by every bite, and no report may lose a line of it; ");
    const json limits{{"cylinder_D", 0.1},      {"flattening_D", 0.1},     {"step_um", 1},
                      {"hoa_rms_um", 0.1},      {"posterior_gape_um", 1},  {"radial_error_deg", 1},
                      {"spacing_error_deg", 1}, {"opposite_error_deg", 1}, {"tension_range", 0.1},
                      {"trauma_count", 0}};
    for (const auto& [key, limit] : limits.items()) level["pass"][key] = limit;
    return level;
}

// Bites that break as many limits each as a closure bears, on single threads and so many runs.
std::string worst_attempt(int bites, int runs) {
    const std::array<json, 4> kinds{
        json{{"graft_depth_um", 300}, {"host_depth_um", 620}, {"graft_bite_mm", 0.6}, {"host_bite_mm", 1.4}},
        json{{"graft_depth_um", 550}, {"host_depth_um", 400}, {"graft_bite_mm", 1.4}, {"host_bite_mm", 0.6}},
        json{{"graft_depth_um", 540}, {"host_depth_um", 420}, {"graft_bite_mm", 1.35}, {"host_bite_mm", 0.7}},
        json{{"graft_depth_um", 380}, {"host_depth_um", 600}, {"graft_bite_mm", 0.7}, {"host_bite_mm", 1.3}}};
    const std::array<double, 4> tensions{4, 15, 34, 15};
    json attempt{{"format", "graftwright-attempt"},
                 {"version", 1},
                 {"scenario", "strict"},
                 {"trainee", long_words("Trainee of the Evening Class at the Second Table from the Window, ")},
                 {"started", "2026-11-29T09:00:00Z, the second sitting"}};
    for (int i = 0; i < 3; ++i) attempt["events"].push_back({{"t_s", i}, {"what", "trauma"}});
    attempt["bites"] = json::array();
    for (int r = 0; r < runs; ++r)
        attempt["runs"].push_back({{"bites", json::array()}, {"tension_mN", 20}, {"friction", 0.1}, {"worked_mN", 0}});
    for (int k = 0; k < bites; ++k) {
        json bite = kinds[static_cast<std::size_t>(k) % 4];
        const double deg = 90.0 + 360.0 * k / bites + (k / 4 % 2 == 0 ? 0.0 : bites > 40 ? 1.8 : 4.5);
        bite["host_deg"] = deg;
        bite["graft_deg"] = deg + (k % 2 == 0 ? -9 : 9);
        const int thread = k % (runs + 1);  // 0: a single bite
        if (thread > 0) {
            attempt["runs"][static_cast<std::size_t>(thread - 1)]["bites"].push_back(bite);
        } else {
            bite["tension_mN"] = tensions[static_cast<std::size_t>(k / (runs + 1)) % 4];
            attempt["bites"].push_back(bite);
        }
    }
    return attempt.dump();
}

std::string pages_of(const std::string& pdf) {
    const Ran info = tool("pdfinfo " + quoted(pdf));
    CHECK_THAT(info.out, Contains("A4"));
    std::smatch pages;
    REQUIRE(std::regex_search(info.out, pages, std::regex("Pages: +([0-9]+)")));
    return pages[1];
}

struct Written {
    Folder folder;
    std::string html;
    Ran ran;
};

Written& eight_bites() {
    static Written once;
    if (once.html.empty()) {
        once.html = once.folder.file("report.html");
        once.ran = run({"score", "-", "--json", "--report", once.html}, named_attempt(8));
    }
    return once;
}

}  // namespace

TEST_CASE("report file: written beside the result, which stays alone on standard output", "[app][slow]") {
    const Written& w = eight_bites();
    INFO(w.ran.err);
    REQUIRE(w.ran.code == 0);
    CHECK(w.ran.err.empty());
    REQUIRE(lines_of(w.ran.out).size() == 1);
    const json out = json::parse(w.ran.out);
    const std::string html = text_of(w.html);
    CHECK(html.size() > 50000);
    CHECK(html.size() < 1500000);
    // Every number of the table of bites and of the readings, as --json says it.
    static const std::regex value("<data value=\"([^\"]+)\">");
    std::vector<double> shown;
    for (auto it = std::sregex_iterator(html.begin(), html.end(), value); it != std::sregex_iterator(); ++it) {
        shown.push_back(std::stod((*it)[1]));
    }
    const auto is_shown = [&](const json& number) {
        const double wanted = number.get<double>();
        return std::any_of(shown.begin(), shown.end(),
                           [&](double x) { return std::abs(x - wanted) <= 1e-9 * std::abs(wanted) + 1e-12; });
    };
    for (const char* object : {"keratometry", "ideal"}) {
        for (const auto& [key, number] : out.at(object).items()) {
            INFO(object << "." << key);
            CHECK(is_shown(number));
        }
    }
    for (const json& bite : out.at("per_bite")) {
        for (const auto& [key, number] : bite.items()) {
            INFO(key);
            if (number.is_number()) CHECK(is_shown(number));
        }
    }
    CHECK(is_shown(out.at("score").at("total")));
    CHECK(is_shown(out.at("wound").at("leak_pressure_mmHg")));
}

TEST_CASE("report file: strict HTML5 with pictures in SVG's own namespace and no script", "[app][slow]") {
    const Written& w = eight_bites();
    const Ran checked = tool("/usr/bin/python3 " + quoted(kRoot + "/tests/app/check_page.py") + " " + quoted(w.html));
    INFO(checked.out);
    CHECK(checked.code == 0);
    // And the checker can say no.
    const std::string bad = w.folder.write("bad.html", "<!DOCTYPE html><p><svg><title>x</title></p><b></i>");
    const Ran refused = tool("/usr/bin/python3 " + quoted(kRoot + "/tests/app/check_page.py") + " " + quoted(bad));
    CHECK(refused.code == 1);
    CHECK_THAT(refused.out, Contains("line 1, column") && Contains("words for who cannot see it"));
}

TEST_CASE("report file: a browser shows it without a word of complaint and prints two pages", "[app][slow]") {
    const int bites = GENERATE(2, 8, 64);
    const Folder folder;
    const std::string html = folder.file("report.html"), pdf = folder.file("report.pdf");
    REQUIRE(run({"score", "-", "--no-shares", "--report", html}, named_attempt(bites)).code == 0);
    INFO(bites << " bites");
    const Ran shown = tool(chromium(folder, "--window-size=1280,800 --screenshot=" + quoted(folder.file("screen.png")) +
                                                " " + quoted("file://" + html)));
    INFO(shown.out);
    CHECK(shown.code == 0);
    CHECK_THAT(shown.out, !Contains("CONSOLE"));
    CHECK(text_of(folder.file("screen.png")).size() > 20000);
    const Ran printed =
        tool(chromium(folder, "--no-pdf-header-footer --print-to-pdf=" + quoted(pdf) + " " + quoted("file://" + html)));
    INFO(printed.out);
    REQUIRE(printed.code == 0);
    CHECK(pages_of(pdf) == "2");
    // The name came through as text, all of it.
    const Ran words = tool("pdftotext -layout " + quoted(pdf) + " -");
    CHECK_THAT(words.out, Contains("<script>alert('x')</script> & \"N\""));
    CHECK_THAT(words.out, Contains("not a medical device"));
}

TEST_CASE("report file: prints on two pages however many limits were broken", "[app][slow]") {
    const auto [bites, runs] =
        GENERATE(table<int, int>({{12, 0}, {24, 0}, {25, 0}, {32, 1}, {40, 3}, {64, 0}, {64, 7}}));
    INFO(bites << " bites, runs: " << runs);
    const Folder folder;
    const std::string level = folder.write("strict.json", strict_level().dump()), html = folder.file("report.html"),
                      pdf = folder.file("report.pdf");
    const Ran ran = run({"score", "-", "--scenario", level, "--report", html}, worst_attempt(bites, runs));
    INFO(ran.err);
    REQUIRE(ran.code == 0);
    // There are readings and marks to print, and bites with many notes.
    const std::string page = text_of(html);
    CHECK_THAT(page, Contains("How the marks come about") && Contains("not met") && Contains("thread") &&
                         Contains("enters the chamber") && Contains("depths differ"));
    REQUIRE(
        tool(chromium(folder, "--no-pdf-header-footer --print-to-pdf=" + quoted(pdf) + " " + quoted("file://" + html)))
            .code == 0);
    CHECK(pages_of(pdf) == "2");
    // Nothing is cut off: the last line of either sheet is there.
    const Ran words = tool("pdftotext -layout " + quoted(pdf) + " -");
    CHECK_THAT(words.out, Contains("sheet 1 of 2") && Contains("sheet 2 of 2"));
}

TEST_CASE("report file: the browser's console is listened to", "[app][slow]") {
    const Folder folder;
    const std::string page =
        folder.write("page.html", "<!DOCTYPE html><title>x</title><script>console.error('heard')</script>");
    CHECK_THAT(tool(chromium(folder, "--dump-dom " + quoted("file://" + page))).out, Contains("heard"));
}

TEST_CASE("pictures: every one is an SVG that a strict parser reads, and a PNG", "[app][slow]") {
    const Folder folder;
    const std::string attempt = folder.write("attempt.json", named_attempt(4));
    for (const char* picture :
         {"overview", "axial", "tangential", "rings", "shares", "leak", "sections", "trade-off"}) {
        INFO(picture);
        const std::string svg = folder.file(std::string(picture) + ".svg"),
                          png = folder.file(std::string(picture) + ".png");
        REQUIRE(run({"score", attempt, "--no-shares", "--svg", svg, "--picture", picture}).code == 0);
        const Ran checked = tool("xmllint --nonet --noout " + quoted(svg));
        INFO(checked.out);
        CHECK(checked.code == 0);
        CHECK_THAT(text_of(svg), Contains("medical device"));
        REQUIRE(run({"score", attempt, "--no-shares", "--png", png, "--picture", picture}).code == 0);
        CHECK(tool("/usr/bin/python3 -c \"import sys; from PIL import Image; i = Image.open(sys.argv[1]); i.load(); "
                   "sys.exit(0 if i.width >= 1000 and len(i.getcolors(1 << 24)) > 20 else 1)\" " +
                   quoted(png))
                  .code == 0);
    }
}

TEST_CASE("pictures: without --picture a slide gets the overview", "[app][slow]") {
    const Folder folder;
    const std::string attempt = folder.write("attempt.json", named_attempt(4));
    const std::string one = folder.file("one.svg"), other = folder.file("other.svg");
    REQUIRE(run({"score", attempt, "--no-shares", "--svg", one}).code == 0);
    REQUIRE(run({"score", attempt, "--no-shares", "--svg", other, "--picture", "overview"}).code == 0);
    CHECK(text_of(one) == text_of(other));
}

TEST_CASE("report file: an attempt without a closure has a report that says why", "[app]") {
    const Folder folder;
    const std::string html = folder.file("report.html"), png = folder.file("leak.png");
    const Ran ran =
        run({"score", "-", "--json", "--report", html, "--png", png, "--picture", "leak"}, named_attempt(2));
    CHECK(ran.code == 0);
    CHECK_THAT(text_of(html),
               Contains("No closure: " + json::parse(ran.out).at("solver").at("reason").get<std::string>()));
    CHECK(text_of(png).size() > 2000);
}

TEST_CASE("report file: what its options cannot mean is wrong usage and writes nothing", "[app]") {
    const Folder folder;
    const std::string attempt = folder.write("attempt.json", even_attempt(2)), out = folder.file("out");
    const std::string before = text_of(attempt);
    for (const std::vector<std::string>& more : std::vector<std::vector<std::string>>{
             {attempt, attempt, "--report", out},  // one file, two attempts
             {attempt, attempt, "--png", out},
             {attempt, "--svg", out, "--png", out},         // two kinds of one picture
             {attempt, "--picture", "axial"},               // a picture and nowhere to put it
             {attempt, "--svg", out, "--picture", "face"},  // no such picture
             {attempt, "--svg", out, "--width", "500"},     // vectors have no pixels
             {attempt, "--png", out, "--width", "20"},
             {attempt, "--report", "-"},      // standard output has the result
             {attempt, "--report", attempt},  // would write over its own input
             {attempt, "--scenario", kRoot + "/levels/sixteen.json", "--svg", kRoot + "/levels/sixteen.json"},
             {attempt, "--report"}}) {
        std::vector<std::string> arguments = {"score"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        const Ran ran = run(arguments);
        INFO(more.back() << "\n" << ran.err);
        CHECK(ran.code == 2);
        CHECK(ran.out.empty());
        CHECK_FALSE(ran.err.empty());
        CHECK_FALSE(std::filesystem::exists(out));
    }
    CHECK(text_of(attempt) == before);
}

TEST_CASE("report file: where it cannot be written is the machine's fault, with the file's name", "[app]") {
    const Folder folder;
    std::vector<std::string> places = {folder.file("no/such/folder/report.html"), folder.file("")};
    if (std::filesystem::exists("/dev/full")) {
        places.emplace_back("/dev/full");
    } else {
        WARN("no /dev/full here: a full disk is not tested");
    }
    for (const std::string& place : places) {
        for (const char* option : {"--report", "--svg", "--png"}) {
            const Ran ran = run({"score", "-", option, place}, even_attempt(2));
            INFO(option << " " << place << "\n" << ran.err);
            CHECK(ran.code == 3);
            CHECK_THAT(ran.err, Contains("cannot write " + place + ": "));
            CHECK(lines_of(ran.err).size() == 1);
        }
    }
}

TEST_CASE("report file: a bad attempt leaves no report behind", "[app][bad-input]") {
    const Folder folder;
    const std::string out = folder.file("report.html");
    CHECK(run({"score", kData + "negative_tension.json", "--report", out}).code == 1);
    CHECK_FALSE(std::filesystem::exists(out));
}
