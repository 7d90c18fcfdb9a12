// The report as a text: the scorecard's numbers in it, nothing that the score does not have, cautions on all.
#include <algorithm>
#include <cmath>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "../scenes/attempts.h"
#include "../scenes/made_up_runs.h"
#include "report/curvature_picture.h"
#include "report/raster.h"
#include "report/report_html.h"
#include "report/report_style.h"
#include "report/report_tables.h"
#include "report/single_picture.h"
#include "score/scorecard_json.h"

using namespace graftwright;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinRel;
using nlohmann::json;

namespace {

struct Scored {
    Scenario scenario;
    Attempt attempt;
    Scorecard card;

    [[nodiscard]] Case as_case() const { return {scenario, attempt, card, {{}, "No simulated experts here."}}; }
};

// Few bites on a coarse model: cheap, and nothing here hangs on fine numbers.
Scored scored(int bites, bool shares = true) {
    Scored out;
    out.scenario = scenes::standard_scenario();
    out.scenario.id = "practice";
    out.scenario.title = "Practice & theory";
    out.attempt.scenario = "practice";
    out.attempt.trainee = "<script>alert('x')</script>";
    out.attempt.bites = scenes::even_bites(out.scenario, bites);
    out.attempt.bites[1].host_deg += 6;
    out.attempt.bites[0].graft_depth_um = 300;
    ScoreOptions options;
    options.shares = shares;
    out.card = score_attempt(ScenarioModel(out.scenario, scenes::coarse_options()), out.attempt, options);
    return out;
}

const Scored& six() {
    static const Scored once = scored(6);
    return once;
}

// So many single bites, the others on running threads of so many bites each.
Scored with_runs(int all, std::size_t single, std::size_t of_each_run) {
    Scored out = scored(all);
    REQUIRE(out.card.converged());
    for (auto first = static_cast<std::size_t>(all) - of_each_run; out.attempt.bites.size() > single;
         first -= of_each_run)
        scenes::make_run(out.attempt, out.card, first);
    return out;
}

// The attempt's own number in the row of that key: the first <data> after it.
double number_under(const std::string& html, const std::string& key, std::size_t nth = 0) {
    const std::size_t row = html.find("data-key=\"" + key + "\"");
    REQUIRE(row != std::string::npos);
    const std::string line = html.substr(row, html.find("</tr>", row) - row);
    static const std::regex value("<data value=\"([^\"]+)\">");
    auto it = std::sregex_iterator(line.begin(), line.end(), value);
    for (; nth > 0 && it != std::sregex_iterator(); --nth) ++it;
    REQUIRE(it != std::sregex_iterator());
    return std::stod((*it)[1]);
}

std::size_t count_of(const std::string& text, const std::string& part) {
    std::size_t count = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
    return count;
}

// The cautions as a reader meets them: without tags, lines joined.
void require_cautions(const std::string& text) {
    std::string read;
    bool in_tag = false;
    for (const char c : text) {
        in_tag = c == '<' || (in_tag && c != '>');
        const bool gap = in_tag || c == '>' || c == '\n' || c == ' ';
        if (!gap) read += c;
        if (gap && !read.empty() && read.back() != ' ') read += ' ';
    }
    for (const char* words :
         {"not a medical device", "not validated on patients", "certifies nobody", "takes no patient&#39;s data",
          "Never use it to choose a suture to place, adjust or remove",
          "your supervising surgeons and local protocols come first"}) {
        CHECK_THAT(read, Contains(words));
    }
}

}  // namespace

TEST_CASE("report: its readings are those of --json", "[report]") {
    const Scored& s = six();
    REQUIRE(s.card.converged());
    const std::string html = report_html(s.as_case());
    const json out = json::parse(scorecard_json(s.scenario, s.card));
    const auto same = [&](const std::string& key, const json& value) {
        INFO(key);
        // Both are rounded to ten digits.
        if (value.get<double>() == 0) {
            CHECK(number_under(html, key) == 0);
        } else {
            CHECK_THAT(number_under(html, key), WithinRel(value.get<double>(), 1e-9));
        }
    };
    for (const char* key : {"steep_D", "steep_axis_deg", "flat_D", "mean_D", "cylinder_D"}) {
        same(std::string("keratometry.") + key, out["keratometry"][key]);
    }
    for (const char* key : {"J0_D", "J45_D"}) same(std::string("power_vector.") + key, out["power_vector"][key]);
    for (const char* key : {"leak_pressure_mmHg", "weakest_deg", "leak_uL_min", "settled_pressure_mmHg", "max_step_um",
                            "max_posterior_gape_um"}) {
        same(std::string("wound.") + key, out["wound"][key]);
    }
    same("hoa_rms_um", out["hoa_rms_um"]);
    CHECK_THAT(number_under(html, "keratometry.cylinder_D", 1),
               WithinRel(out["ideal"]["cylinder_D"].get<double>(), 1e-9));
    CHECK_THAT(number_under(html, "score.total"), WithinRel(out["score"]["total"].get<double>(), 1e-9));
}

TEST_CASE("report: its bites are those of --json, column by column", "[report]") {
    const Scored& s = six();
    const std::string table = bites_table(s.as_case());
    const json out = json::parse(scorecard_json(s.scenario, s.card));
    static const std::regex value("<data value=\"([^\"]+)\">");
    for (std::size_t b = 0; b < 6; ++b) {
        const std::size_t row = table.find("data-bite=\"" + std::to_string(b + 1) + "\"");
        REQUIRE(row != std::string::npos);
        const std::string line = table.substr(row, table.find("</tr>", row) - row);
        std::vector<double> shown;
        for (auto it = std::sregex_iterator(line.begin(), line.end(), value); it != std::sregex_iterator(); ++it) {
            shown.push_back(std::stod((*it)[1]));
        }
        REQUIRE(shown.size() == 11);
        const json& bite = out["per_bite"][b];
        const char* const keys[] = {
            "tension_mN",          "share_D",          "share_axis_deg",    "share_leak_mmHg", "depth_fraction_graft",
            "depth_fraction_host", "radial_error_deg", "spacing_error_deg", "bite_ratio"};
        for (std::size_t k = 0; k < 9; ++k) {
            INFO(keys[k]);
            CHECK_THAT(shown[k + 2], WithinRel(bite[keys[k]].get<double>(), 1e-9) ||
                                         Catch::Matchers::WithinAbs(bite[keys[k]].get<double>(), 1e-12));
        }
        for (const auto& flag : bite["flags"]) {
            const std::optional<BiteFlag> known = flag_named(flag.get<std::string>());
            REQUIRE(known);
            CHECK_THAT(line, Contains(meaning_of(*known).words));
        }
    }
}

TEST_CASE("report: a broken limit is listed once, with its value and its source", "[report]") {
    const Scored& s = six();
    const std::string list = limits_list(s.as_case());
    CHECK_THAT(list,
               Contains("donor shallow: at least 0.85 of the thickness") && Contains("AAO BCSC and teaching pages"));
    CHECK(count_of(list, "donor shallow") == 1);
    CHECK_THAT(list, !Contains("donor deep"));
    CHECK_THAT(sources_line(s.as_case()),
               Contains("<b>Br J Ophthalmol table</b> scoring table for porcine corneal suturing"));
}

TEST_CASE("report: a trainee's name is text and nothing else", "[report]") {
    const Scored& s = six();
    const std::string html = report_html(s.as_case());
    CHECK(count_of(html, "<script") == 0);
    CHECK_THAT(html, Contains("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;"));
    CHECK_THAT(html, Contains("Practice &amp; theory"));
    CHECK_THAT(picture_svg(s.as_case(), PictureKind::leak), Contains("&lt;script&gt;") && !Contains("<script"));
}

TEST_CASE("report: stands alone, is small, and carries the cautions, program and model", "[report]") {
    const std::string html = report_html(six().as_case());
    CHECK(html.size() < 1500000);
    require_cautions(html);
    CHECK_THAT(html, Contains("Graftwright 0.") && Contains("64 harmonics"));
    for (const char* link : {"src=", "href=", "@import", "url(http", "<link", "<img"}) CHECK(count_of(html, link) == 0);
    // Nothing but its own clips and the name of the SVG language points anywhere.
    CHECK(count_of(html, "http") == count_of(html, "http-equiv") + count_of(html, "http://www.w3.org/2000/svg"));
    CHECK(count_of(html, "<svg ") == 10);  // shares, four maps, two of rings, leak clock, trade-off, sections
    static const std::regex number_of_a_list("\\bT[0-9]+-[0-9]{2}\\b");
    CHECK_FALSE(std::regex_search(html, number_of_a_list));
    for (const char* none : {">nan", ">inf", "\"nan", "\"inf", "-nan"}) CHECK(count_of(html, none) == 0);
}

TEST_CASE("report: words of tables and sentences print at 7 points or more", "[report]") {
    const std::string style = kReportStyle;
    const std::size_t print = style.find("@media print");
    std::smatch points;
    const std::string printed = style.substr(print);
    REQUIRE(std::regex_search(printed, points, std::regex("font-size: ([0-9.]+)pt")));
    static const std::regex of_it("font-size: ([0-9.]*)em");
    int count = 0;
    for (auto it = std::sregex_iterator(style.begin(), style.end(), of_it); it != std::sregex_iterator(); ++it) {
        INFO(it->str());
        CHECK(std::stod((*it)[1]) * std::stod(points[1]) >= 7.0);
        ++count;
    }
    CHECK(count > 5);
    // One size alone is given in points: all others hang on it.
    CHECK(count_of(style, "pt;") == 1);
}

TEST_CASE("report: no two parts of a page share a name", "[report]") {
    const std::string html = report_html(six().as_case());
    static const std::regex id(" id=\"([^\"]+)\"");
    std::set<std::string> seen;
    for (auto it = std::sregex_iterator(html.begin(), html.end(), id); it != std::sregex_iterator(); ++it) {
        INFO((*it)[1]);
        CHECK(seen.insert((*it)[1]).second);
    }
    CHECK(seen.size() > 20);
}

TEST_CASE("report: without a closure there is the reason and no number of a closure", "[report]") {
    Scored two = scored(6, false);
    two.attempt.bites.resize(2);
    two.card = score_attempt(ScenarioModel(two.scenario, scenes::coarse_options()), two.attempt);
    REQUIRE_FALSE(two.card.converged());
    const Case what = two.as_case();
    const std::string html = report_html(what);
    CHECK_THAT(html, Contains("No closure: fewer than three bites do not hold a filled chamber"));
    CHECK_THAT(readings_table(what), !Contains("<data"));
    CHECK(marks_table(what).empty());
    CHECK_THAT(html, Contains("donor shallow"));  // what is known of the bites stays
    for (const PictureName& one : kPictureNames) {
        const std::string svg = picture_svg(what, one.kind);
        if (one.kind != PictureKind::sections) CHECK_THAT(svg, Contains("No closure"));
        require_cautions(svg);
    }
}

TEST_CASE("report: shares that were not asked for are said to be missing", "[report]") {
    const Scored s = scored(4, false);
    CHECK_THAT(report_html(s.as_case()), Contains("The shares were not asked for"));
}

TEST_CASE("report: a left eye has its nose on the other side", "[report]") {
    Scored left = six();
    const std::string right = picture_svg(left.as_case(), PictureKind::rings);
    left.scenario.eye.side = Side::left;
    const std::string other = picture_svg(left.as_case(), PictureKind::rings);
    CHECK_THAT(right, Contains("right eye, examiner") && !Contains("left eye"));
    CHECK_THAT(other, Contains("left eye, examiner") && !Contains("right eye"));
    // Temporal stands first, on the picture's left, of a right eye.
    CHECK(right.find(">temporal<") < right.find(">nasal<"));
    CHECK(other.find(">nasal<") < other.find(">temporal<"));
}

TEST_CASE("report: every picture is its own file with the cautions, and draws as PNG", "[report]") {
    for (const PictureName& one : kPictureNames) {
        INFO(one.name);
        CHECK(picture_kind(one.name) == one.kind);
        const std::string svg = picture_svg(six().as_case(), one.kind);
        require_cautions(svg);
        CHECK(svg.rfind("<?xml", 0) == 0);
        const std::string png = png_of_svg(svg, 300);
        CHECK(png.size() > 2000);
        CHECK(png.compare(0, 8, "\x89PNG\r\n\x1A\n") == 0);
    }
    CHECK_FALSE(picture_kind("portrait"));
}

TEST_CASE("report: what is no SVG is refused by name, not drawn", "[report]") {
    CHECK_THROWS_WITH(png_of_svg("<svg", 100), Contains("could not be drawn"));
}

TEST_CASE("report: maps end before the threads' entries and never inside the keratometer's ring", "[report]") {
    Scored s = six();
    CHECK(map_radius_mm(s.scenario, s.attempt, s.card, Curvature::axial) < 2.5);
    CHECK(map_radius_mm(s.scenario, s.attempt, s.card, Curvature::tangential) < map_radius_mm(s.scenario, s.attempt, s.card, Curvature::axial));
    s.attempt.bites[2].graft_bite_mm = 3.0;
    CHECK(map_radius_mm(s.scenario, s.attempt, s.card, Curvature::axial) == 1.6);
}

TEST_CASE("report: the same score gives the same bytes", "[report]") {
    CHECK(report_html(six().as_case()) == report_html(six().as_case()));
}

TEST_CASE("report: bites of a running thread have their rows, sections and numbers behind the single ones",
          "[report][runs]") {
    const Scored s = with_runs(16, 8, 8);
    const std::string html = report_html(s.as_case()), table = bites_table(s.as_case());
    CHECK(count_of(table, "data-bite=") == 16);
    CHECK(count_of(table, "run\u00a01") == 8);
    CHECK(count_of(table, "<data value=\"12\">12.0</data>") >= 8);  // the knot's
    CHECK_THAT(html, Contains("16: 8 single, 8 in a running thread") && Contains("slide against friction") &&
                         Contains("one thread with one knot"));
    const std::string sections = picture_svg(s.as_case(), PictureKind::sections);
    CHECK(count_of(sections, ">run 1<") == 8);
    CHECK_THAT(sections, Contains("small circles: a running thread"));
    CHECK_THAT(picture_svg(s.as_case(), PictureKind::leak), Contains(">its knot<"));
    CHECK_THAT(picture_svg(s.as_case(), PictureKind::shares), Contains(">bites 9–16: run 1<"));
    CHECK_THAT(picture_svg(s.as_case(), PictureKind::shares), Contains("thickest: bite 2<"));
    CHECK(map_radius_mm(s.scenario, s.attempt, s.card, Curvature::axial) < 2.5);
    require_cautions(html);
}

TEST_CASE("report: a running thread alone has a whole report, and the longest bite of it bounds the maps",
          "[report][runs][slow]") {
    Scored s = with_runs(16, 0, 16);
    REQUIRE(s.attempt.bites.empty());
    CHECK(count_of(bites_table(s.as_case()), "data-bite=") == 16);
    CHECK_THAT(report_html(s.as_case()), Contains("<dd>16 in a running thread"));
    for (const PictureName& one : kPictureNames) {
        const std::string svg = picture_svg(s.as_case(), one.kind);
        require_cautions(svg);
        CHECK_THAT(svg, !Contains("nan") && !Contains("No bites"));
    }
    CHECK_THAT(picture_svg(s.as_case(), PictureKind::shares), Contains("thickest: bite 9 (run 1, bite 9)"));
    s.attempt.runs[0].bites[2].graft_bite_mm = 3.0;
    CHECK(map_radius_mm(s.scenario, s.attempt, s.card, Curvature::axial) == 1.6);
}

TEST_CASE("report: numbers of crossing threads do not stand on each other", "[report][runs][slow]") {
    Scored s = with_runs(16, 0, 8);
    s.attempt.runs[1].bites = s.attempt.runs[0].bites;  // two threads in each other's places
    const auto bold_numbers = [](const std::string& svg) {
        static const std::regex number("font-weight=\"700\"[^>]*>([0-9]+)<");
        return std::distance(std::sregex_iterator(svg.begin(), svg.end(), number), std::sregex_iterator());
    };
    CHECK(bold_numbers(picture_svg(s.as_case(), PictureKind::leak)) == 8);
    CHECK(bold_numbers(picture_svg(six().as_case(), PictureKind::leak)) == 6);
}

TEST_CASE("report: of single bites it says nothing of running threads", "[report][runs]") {
    const std::string html = report_html(six().as_case());
    for (const char* word : {"running", "knot<", "run 1", "one thread"}) CHECK(count_of(html, word) == 0);
}
