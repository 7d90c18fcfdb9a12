// The schemas that ship, the structs and the table for people say the same.
#include "files/schema.h"

#include <sstream>
#include <string>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "files/reader.h"
#include "files/writer.h"
#include "shared.h"

using namespace graftwright;
using graftwright::test::kLevels;

namespace {

Json schema(FileKind kind) { return Json::parse(schema_text(kind)); }

// Every default that the schema names is the value that a default-made struct writes.
int compare_defaults(const Json& node, const Json& written, const std::string& where) {
    int compared = 0;
    for (const auto& [key, below] : node["properties"].items()) {
        INFO(where << key);
        if (below.contains("properties")) compared += compare_defaults(below, written[key], key + ".");
        if (!below.contains("default")) continue;
        CHECK(below["default"] == written[key]);
        ++compared;
    }
    return compared;
}

std::string words(const Json& number) {
    std::ostringstream text;
    text << number.get<double>();
    return text.str();
}

// The row of FORMAT.md that starts with this key and holds this range.
int compare_ranges(const Json& node, const std::string& page) {
    int compared = 0;
    for (const auto& [key, below] : node["properties"].items()) {
        if (below.contains("properties")) compared += compare_ranges(below, page);
        if (!below.contains("maximum")) continue;
        const bool above = below.contains("exclusiveMinimum");
        const bool whole = std::trunc(below["maximum"].get<double>()) == below["maximum"].get<double>();
        const std::string high = whole ? std::to_string(below["maximum"].get<int>()) : words(below["maximum"]);
        const std::string range = above ? "above " + words(below["exclusiveMinimum"]) + ", to " + high
                                        : words(below["minimum"]) + " to " + high;
        INFO(key << ": " << range);
        bool found = false;
        std::istringstream lines(page);
        for (std::string line; std::getline(lines, line);)
            found = found || (line.starts_with("| `" + key + "` |") && line.find("| " + range) != std::string::npos);
        CHECK(found);
        ++compared;
    }
    return compared;
}

}  // namespace

TEST_CASE("schema: the texts built in are the files that ship", "[files][schema]") {
    CHECK(read_text_file(kLevels + "/scenario.schema.json").value() == schema_text(FileKind::scenario));
    CHECK(read_text_file(kLevels + "/attempt.schema.json").value() == schema_text(FileKind::attempt));
    CHECK(read_text_file(kLevels + "/ring.schema.json").value() == schema_text(FileKind::ring));
    CHECK(read_text_file(kLevels + "/hand.schema.json").value() == schema_text(FileKind::hand));
    CHECK(check_file(kLevels + "/ring.schema.json", kLevels).empty());
}

TEST_CASE("schema: its defaults are the defaults of the types", "[files][schema]") {
    const Json scenario = Json::parse(write_scenario(Scenario{}));
    CHECK(compare_defaults(schema(FileKind::scenario), scenario, "") > 30);
    Attempt one;
    one.bites.resize(1);
    one.runs.resize(1);
    one.runs[0].bites.resize(1);
    const Json attempt = Json::parse(write_attempt(one));
    const Json rules = schema(FileKind::attempt);
    CHECK(compare_defaults(rules, attempt, "") == 4);
    CHECK(compare_defaults(rules["definitions"]["bite"], attempt["bites"][0], "bite.") == 14);
    CHECK(compare_defaults(rules["definitions"]["run"], attempt["runs"][0], "run.") == 3);
    CHECK(compare_defaults(rules["definitions"]["run_bite"], attempt["runs"][0]["bites"][0], "") == 10);
}

TEST_CASE("schema: a bite is the same in a scenario's start and in an attempt", "[files][schema]") {
    const Json scenario = schema(FileKind::scenario);
    const Json attempt = schema(FileKind::attempt);
    for (const char* part : {"bite", "run_bite", "run"})
        CHECK(scenario["definitions"][part] == attempt["definitions"][part]);
}

TEST_CASE("schema: FORMAT.md has a row with the range of every number", "[files][schema]") {
    const std::string page = read_text_file(kLevels + "/FORMAT.md").value();
    CHECK(compare_ranges(schema(FileKind::scenario), page) > 20);
    const Json attempt = schema(FileKind::attempt);
    for (const auto& [name, part] : attempt["definitions"].items()) CHECK(compare_ranges(part, page) > 0);
    const Json ring = schema(FileKind::ring);
    CHECK(compare_ranges(ring, page) > 10);
    CHECK(compare_ranges(ring["properties"]["bites"]["items"], page) == 9);
    CHECK(compare_ranges(schema(FileKind::hand)["definitions"]["event"], page) == 6);
}

TEST_CASE("schema: no object but an event takes keys that are not in the table", "[files][schema]") {
    for (const FileKind kind : {FileKind::scenario, FileKind::attempt, FileKind::ring, FileKind::hand}) {
        const Json flat = schema(kind).flatten();
        for (const auto& [pointer, value] : flat.items())
            if (pointer.ends_with("/type") && value == "object" && pointer.find("/event/") == pointer.npos) {
                INFO(pointer);
                CHECK(flat.value(pointer.substr(0, pointer.rfind('/')) + "/additionalProperties", Json()) == false);
            }
    }
}

namespace {

// The unit in a number's row of FORMAT.md is the schema's; returns how many numbers were compared.
int compare_units(const Json& node, const std::string& page) {
    int compared = 0;
    for (const auto& [key, below] : node["properties"].items()) {
        if (below.contains("properties")) compared += compare_units(below, page);
        const Json& number = below.contains("items") && below["items"].contains("maximum") ? below["items"] : below;
        if (!number.contains("maximum")) continue;
        INFO(key);
        REQUIRE(below.contains("unit"));
        CHECK(page.find("| `" + key + "` | " + below["unit"].get<std::string>() + " |") != std::string::npos);
        CHECK(below.value("why", "").size() > 10);
        if (below.contains("default") && below["default"].is_null()) {  // a form begins with it
            REQUIRE(below.contains("examples"));
            const double usual = below["examples"][0].get<double>();
            CHECK(usual <= below["maximum"].get<double>());
            CHECK(usual >= below.value("minimum", below.value("exclusiveMinimum", 0.0)));
        }
        ++compared;
    }
    return compared;
}

}  // namespace

TEST_CASE("schema: every number of a scenario has its unit, as in FORMAT.md, and why it matters", "[files][schema]") {
    const std::string page = read_text_file(kLevels + "/FORMAT.md").value();
    const Json scenario = schema(FileKind::scenario);
    CHECK(compare_units(scenario, page) == 37);
    CHECK(compare_units(scenario["definitions"]["bite"], page) == 12);
    CHECK(compare_units(scenario["definitions"]["run"], page) == 3);
}
