// Which word was meant.
#include "base/nearest_word.h"

#include <catch2/catch.hpp>

using namespace graftwright;

TEST_CASE("nearest word: letters left out, put in, replaced or swapped count one each", "[base]") {
    CHECK(edit_distance("score", "score") == 0);
    CHECK(edit_distance("scroe", "score") == 1);
    CHECK(edit_distance("scor", "score") == 1);
    CHECK(edit_distance("scorre", "score") == 1);
    CHECK(edit_distance("skore", "score") == 1);
    CHECK(edit_distance("", "ring") == 4);
    CHECK(edit_distance("ring", "") == 4);
    CHECK(edit_distance("check", "shekc") == 2);
}

TEST_CASE("nearest word: the nearest within two, and none where none is like it", "[base]") {
    const std::vector<std::string> commands{"play", "score", "logbook", "check", "ring", "study"};
    CHECK(nearest_word("scroe", commands) == "score");
    CHECK(nearest_word("logbok", commands) == "logbook");
    CHECK(nearest_word("stduy", commands) == "study");
    CHECK(nearest_word("rign", commands) == "ring");
    CHECK_FALSE(nearest_word("sew", commands));
    CHECK_FALSE(nearest_word("king-size", commands));
    CHECK_FALSE(nearest_word("pray-s", commands));
    CHECK_FALSE(nearest_word("", commands));
    // Two letters of four changed are another word.
    CHECK_FALSE(nearest_word("bing-", std::vector<std::string>{"ring"}));
}
