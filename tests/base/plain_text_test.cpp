// Somebody else's text on a terminal: shown, never obeyed.
#include "base/plain_text.h"

#include <catch2/catch.hpp>

using namespace graftwright;

namespace {

std::string times(int n) {
    std::string out;
    while (n-- > 0) out += kReplacement;
    return out;
}

}  // namespace

TEST_CASE("plain text: letters of every script, and our own line ends, stay as they are", "[base]") {
    for (const char* text :
         {"", "Ilse Brandt — 16 bites\n", "µm, 0.5°, −1, ▁▂█, …", "Δ ß 角膜 قرنية 👁\r\n", "\xC2\xA0"})
        CHECK(terminal_text(text) == text);
}

TEST_CASE("plain text: what a terminal would obey is replaced where it can be seen", "[base]") {
    CHECK(terminal_text("\x1B[31mred\x07") == times(1) + "[31mred" + times(1));
    CHECK(terminal_text(std::string("a\0b", 3)) == "a" + times(1) + "b");
    CHECK(terminal_text("\t\r\b\x7F") == times(4));
    CHECK(terminal_text("\xC2\x9B"
                        "2J\xC2\x85") == times(1) + "2J" + times(1));  // C1: one-character sequences
    CHECK(terminal_text("\u202Eevil\u202C\u2066x\u2069") == times(1) + "evil" + times(2) + "x" + times(1));
}

TEST_CASE("plain text: bytes that are no UTF-8 are replaced one by one, and the text goes on", "[base]") {
    CHECK(terminal_text("a\xFF"
                        "b") == "a" + times(1) + "b");
    CHECK(terminal_text("\xE2\x82") == times(2));          // cut short
    CHECK(terminal_text("\xC0\xAF") == times(2));          // overlong
    CHECK(terminal_text("\xE0\x80\x80") == times(3));      // overlong
    CHECK(terminal_text("\xED\xA0\x80") == times(3));      // half of a surrogate pair
    CHECK(terminal_text("\xF4\x90\x80\x80") == times(4));  // beyond the last character
    CHECK(terminal_text("\x9B"
                        "31m") == times(1) + "31m");                 // C1 as a terminal of one byte reads it
    CHECK(terminal_text("\xF4\x8F\xBF\xBF") == "\xF4\x8F\xBF\xBF");  // the last one
}

TEST_CASE("plain text: words of one line make no second one", "[base]") {
    CHECK(one_line("Ilse\nscore        100 of 100\r\n") == "Ilse" + times(1) + "score        100 of 100" + times(2));
}
