// Words and numbers, where a slip would draw a wrong picture.
#include <string>

#include <catch2/catch.hpp>

#include "report/html.h"
#include "report/svg.h"
#include "report/words.h"

using namespace graftwright;

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
