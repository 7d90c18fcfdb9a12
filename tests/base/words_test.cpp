// Words that every room says alike.
#include "base/words.h"

#include <limits>

#include <catch2/catch.hpp>

using namespace graftwright;

TEST_CASE("words: one is one, and none and many are many", "[base]") {
    CHECK(counted(1, "bite") == "1 bite");
    CHECK(counted(0, "bite") == "0 bites");
    CHECK(counted(16L, "bite") == "16 bites");
    CHECK(counted(2, "entry", "entries") == "2 entries");
    CHECK(counted(1, "entry", "entries") == "1 entry");
}

TEST_CASE("words: a number has a true minus sign, and nought has none", "[base]") {
    CHECK(shown_number(-1.25, 2) == "−1.25");
    CHECK(shown_number(1.25, 1) == "1.2");  // to even, as every formatter does
    CHECK(shown_number(3.0, 1, true) == "+3.0");
    CHECK(shown_number(-0.004, 2) == "0.00");
    CHECK(shown_number(0.0, 0, true) == "0");
    CHECK(shown_number(std::numeric_limits<double>::quiet_NaN(), 1) == "–");
}

TEST_CASE("words: a place on the wound is its clock hour to the half hour and its degrees", "[base]") {
    CHECK(place_words(90) == "12:00 (90°)");
    CHECK(place_words(0) == "3:00 (0°)");
    CHECK(place_words(180) == "9:00 (180°)");
    CHECK(place_words(257) == "6:30 (257°)");
    CHECK(place_words(75) == "12:30 (75°)");
    CHECK(place_words(-90) == "6:00 (270°)");
    CHECK(place_words(359.9) == "3:00 (0°)");
    CHECK(place_words(83) == "12:00 (83°)");
    CHECK(place_words(450.4) == "12:00 (90°)");
}

TEST_CASE("words: a unit stands off its number, the sign of degrees does not", "[base]") {
    CHECK(with_unit("3.00", "D") == "3.00 D");
    CHECK(with_unit("5", "°") == "5°");
    CHECK(with_unit("0.4", "") == "0.4");
    CHECK(with_unit("0.05", "of thickness") == "0.05 of thickness");
}
