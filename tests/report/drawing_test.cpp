// Lines of equal value, words and numbers, where a slip would draw a wrong picture.
#include <cmath>
#include <string>

#include <catch2/catch.hpp>

#include "base/units.h"
#include "report/contours.h"
#include "report/html.h"
#include "report/svg.h"
#include "report/words.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

ValueGrid grid_of(std::size_t across, double (*value)(double, double)) {
    ValueGrid grid{across, across, {}};
    for (std::size_t row = 0; row < across; ++row) {
        for (std::size_t column = 0; column < across; ++column) {
            const double half = 0.5 * static_cast<double>(across - 1);
            grid.values.push_back(value(static_cast<double>(column) / half - 1, static_cast<double>(row) / half - 1));
        }
    }
    return grid;
}

// Twice the area enclosed, signed, in steps of the table.
double area_of(const std::vector<GridPoint>& loop) {
    double sum = 0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const GridPoint &a = loop[i], &b = loop[(i + 1) % loop.size()];
        sum += a.column * b.row - b.column * a.row;
    }
    return 0.5 * sum;
}

}  // namespace

TEST_CASE("contours: a cone's level is one circle of the right place and size", "[report]") {
    const ValueGrid grid = grid_of(81, [](double x, double y) { return 1 - std::hypot(x, y); });
    const auto loops = loops_at_level(grid, 0.5);
    REQUIRE(loops.size() == 1);
    for (const GridPoint& p : loops.front()) {
        // Linear interpolation between places 1/40 apart: h²/8r of the circle of radius a half, in steps 40.
        CHECK_THAT(std::hypot(p.column - 40, p.row - 40), WithinAbs(20, 0.01));
    }
    CHECK_THAT(std::abs(area_of(loops.front())), WithinRel(kPi * 400, 2e-3));
}

TEST_CASE("contours: a hole in a hill turns the other way round than its rim", "[report]") {
    const ValueGrid grid = grid_of(61, [](double x, double y) {
        const double r = std::hypot(x, y);
        return r * (1 - r);
    });
    const auto loops = loops_at_level(grid, 0.2);
    REQUIRE(loops.size() == 2);
    CHECK(area_of(loops[0]) * area_of(loops[1]) < 0);
}

TEST_CASE("contours: a saddle's four corners make loops that close and never cross", "[report]") {
    const ValueGrid grid{2, 2, {1, 0, 0, 1}};
    CHECK(loops_at_level(grid, 0.25).size() == 1);  // joined: the mean is above
    CHECK(loops_at_level(grid, 0.75).size() == 2);  // parted: below
}

TEST_CASE("contours: a level above all is nowhere, one below all is the table's rim", "[report]") {
    const ValueGrid grid = grid_of(11, [](double x, double y) { return x + y; });
    CHECK(loops_at_level(grid, 3).empty());
    REQUIRE(loops_at_level(grid, -3).size() == 1);
    CHECK_THAT(std::abs(area_of(loops_at_level(grid, -3).front())), WithinRel(100.0, 0.01));
}

TEST_CASE("words: what XML and HTML would misread is escaped, what they cannot hold is replaced", "[report]") {
    CHECK(escaped("<script>\"&'") == "&lt;script&gt;&quot;&amp;&#39;");
    CHECK(escaped("Å 12 o’clock 𝒳") == "Å 12 o’clock 𝒳");
    CHECK(escaped(std::string_view("a\0b\x01\x1B\x7F", 6)) ==
          "a\xEF\xBF\xBD"
          "b\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");
    // Not UTF-8, overlong, halves of pairs, no characters, and marks that turn the text after them around.
    for (const char* bad : {"\xFF", "\xC0\xAF", "\xED\xA0\x80", "\xEF\xBF\xBF", "\xE2\x80\xAE", "\xC2\x85"}) {
        CHECK(escaped(bad).find("\xEF\xBF\xBD") == 0);
    }
}

TEST_CASE("words: numbers have two decimals at most and no minus zero", "[report]") {
    CHECK(svg_number(1.0) == "1");
    CHECK(svg_number(-0.004) == "0");
    CHECK(svg_number(12.345) == "12.35");
    CHECK(svg_number(100) == "100");
    CHECK(number_cell(-0.001, 2, true) == "<data value=\"-0.001\">0.00</data>");
    CHECK(number_cell(-1.25, 1) == "<data value=\"-1.25\">−1.2</data>");
    CHECK(number_cell({}, 1) == "–");
}

TEST_CASE("words: an axis reads as whole degrees of a half turn", "[report]") { CHECK(whole_axis_deg(179.7) == "0°"); }

TEST_CASE("words: lines break between words and keep them all", "[report]") {
    const auto lines = broken_into_lines("one two\nthree four", 10, 45);
    REQUIRE(lines.size() >= 2);
    std::string all;
    for (const std::string& line : lines) all += line + " ";
    CHECK(all == "one two three four ");
}
