// What is written reads back to the same bits.
#include <filesystem>
#include <rapidcheck.h>
#include <string>

#include <catch2/catch.hpp>

#include "any_scenario.h"
#include "files/reader.h"
#include "files/writer.h"
#include "shared.h"

using namespace graftwright;
using graftwright::test::any_attempt;
using graftwright::test::any_scenario;
using graftwright::test::kLevels;

namespace {

std::string told(const Faults& faults) {
    std::string text;
    for (const Fault& fault : faults) text += fault.text() + "\n";
    return text;
}

}  // namespace

TEST_CASE("round trip: any attempt reads back as it was written", "[files][property]") {
    CHECK(rc::check("read_attempt(write_attempt(x)) == x", [] {
        const Attempt attempt = any_attempt();
        const Result<Attempt> read = read_attempt(write_attempt(attempt), "any.json");
        if (!read.ok()) RC_FAIL(told(read.faults()));
        RC_ASSERT(read.value() == attempt);
    }));
}

TEST_CASE("round trip: any scenario reads back as it was written", "[files][property]") {
    CHECK(rc::check("read_scenario(write_scenario(x)) == x", [] {
        const Scenario scenario = any_scenario();
        const Result<Scenario> read = read_scenario(write_scenario(scenario), "any.json");
        if (!read.ok()) RC_FAIL(told(read.faults()));
        RC_ASSERT(read.value() == scenario);
    }));
}

TEST_CASE("round trip: a shipped level's file is named after its id and reads back as written", "[files][shipped]") {
    int count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(kLevels)) {
        const std::string path = entry.path().string();
        if (!path.ends_with(".json") || path.ends_with(".schema.json")) continue;
        INFO(path);
        const Result<Scenario> read = read_scenario(read_text_file(path).value(), path);
        if (!read.ok()) FAIL(told(read.faults()));
        CHECK(entry.path().stem().string() == read.value().id);
        CHECK(read_scenario(write_scenario(read.value()), path).value() == read.value());
        ++count;
    }
    CHECK(count >= 16);
}

TEST_CASE("round trip: a text that is not UTF-8 is mended, not thrown out", "[files]") {
    Attempt attempt;
    attempt.trainee = "J\xf6rg";  // Latin-1, as a command line may hand it over
    attempt.bites.resize(1);
    const Result<Attempt> read = read_attempt(write_attempt(attempt), "a.json");
    REQUIRE(read.ok());
    CHECK(read.value().trainee == "J\xef\xbf\xbdrg");  // U+FFFD, the mark of a lost letter
}
