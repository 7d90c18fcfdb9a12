// Exports: exact fields, the caution, and names that stay behind.
#include "logbook/export.h"

#include <algorithm>

#include <nlohmann/json.hpp>

#include "backends.h"
#include "made_entries.h"

using namespace graftwright;
using namespace graftwright::test;
using Catch::Matchers::Contains;
using nlohmann::json;

namespace {

using Export = void (*)(Logbook&, const LogbookSelection&, bool, const TextSink&);

std::string text_of(Export how, Logbook& logbook, bool anonymous, const LogbookSelection& selection = {}) {
    std::string text;
    how(logbook, selection, anonymous, [&](const std::string& piece) { text += piece; });
    return text;
}

// RFC 4180, strictly: records end with CRLF, all have as many fields as the first.
std::vector<std::vector<std::string>> records_of(const std::string& text) {
    std::vector<std::vector<std::string>> records(1, {""});
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        std::string& field = records.back().back();
        if (quoted && c == '"' && text.substr(i, 2) == "\"\"") {
            field += c;
            ++i;
        } else if (c == '"') {
            REQUIRE((quoted || field.empty()));
            quoted = !quoted;
        } else if (!quoted && c == ',') {
            records.back().emplace_back();
        } else if (!quoted && c == '\r') {
            REQUIRE(text.substr(i, 2) == "\r\n");
            ++i;
            records.push_back({""});
        } else {
            REQUIRE((quoted || c != '\n'));
            field += c;
        }
    }
    REQUIRE_FALSE(quoted);
    REQUIRE(records.back() == std::vector<std::string>{""});
    records.pop_back();
    for (const auto& record : records) REQUIRE(record.size() == records.front().size());
    return records;
}

std::size_t column(const std::vector<std::vector<std::string>>& records, const std::string& name) {
    for (std::size_t c = 0; c < records.front().size(); ++c)
        if (records.front()[c] == name) return c;
    FAIL("no column " << name);
    return 0;
}

}  // namespace

ON_EVERY_BACK_END("CSV has every number to the last bit, quotes what must be, and says what it is not") {
    Logbook logbook = opened(backend.fresh());
    const std::string name = "Rask, \"Odo\" 🪡";
    REQUIRE(logbook.add(made_entry(3, name)));
    REQUIRE(logbook.add(made_entry(4, "=1+1")));
    const auto records = records_of(text_of(export_csv, logbook, false));
    REQUIRE(records.size() == 3);
    CHECK(records[1][column(records, "trainee")] == "'=1+1");
    CHECK(records[2][column(records, "trainee")] == name);
    for (const MetricInfo& metric : kMetrics) {
        INFO(metric.column);
        const std::optional<double> value = at(made_entry(3).measures, metric.metric);
        const std::string& field = records[2][column(records, metric.column)];
        if (value) {
            CHECK(std::stod(field) == *value);
        } else {
            CHECK(field.empty());
        }
    }
    CHECK(records[2][column(records, "skill_depth")] == "failure");
    CHECK(records[2][column(records, "skill_seal")].empty());
    CHECK_THAT(records[1][column(records, "caution")], Contains("not a medical device"));

    const auto bites = records_of(text_of(export_bites_csv, logbook, false, {name, {}}));
    REQUIRE(bites.size() == 17);
    CHECK(std::stod(bites[2][column(bites, "share_D")]) == *made_entry(3).per_bite[1].share_D);
    CHECK(bites[2][column(bites, "flags")] == "not-radial off-slot");
    CHECK_THAT(bites[2][column(bites, "caution")], Contains("not a medical device"));
}

ON_EVERY_BACK_END("JSON has every attempt with its bites and its own file") {
    Logbook logbook = opened(backend.fresh());
    const json empty = json::parse(text_of(export_json, logbook, false));
    CHECK(empty.at("attempts").empty());
    REQUIRE(logbook.add(made_entry(3, "\"Odo\"")));
    const json out = json::parse(text_of(export_json, logbook, false));
    CHECK(out.at("format") == "graftwright-logbook");
    CHECK(out.at("version") == 1);
    CHECK_THAT(out.at("caution").get<std::string>(), Contains("not a medical device"));
    const json& attempt = out.at("attempts").at(0);
    CHECK(attempt.at("trainee") == "\"Odo\"");
    CHECK(attempt.at("total") == *at(made_entry(3).measures, Metric::total));
    CHECK(attempt.at("apposition").is_null());
    CHECK(attempt.at("per_bite").size() == 16);
    CHECK(attempt.at("per_bite").at(1).at("share_D") == *made_entry(3).per_bite[1].share_D);
    CHECK(attempt.at("skills").at("depth") == false);
    CHECK(attempt.at("attempt").at("format") == "graftwright-attempt");
}

ON_EVERY_BACK_END("an anonymous export has stable pseudonyms and nothing that the name can be guessed from") {
    const LogbookPlace place = backend.fresh();
    Logbook logbook = opened(place);
    const std::string name = "Ilse Brandt";
    Entry entry = made_entry(3, name);
    entry.attempt_text = "{ \"format\": \"graftwright-attempt\", \"version\": 1, \"trainee\": \"" + name +
                         "\", \"started\": \"by Brandt\", \"bites\": [ { \"graft_deg\": 77 } ],"
                         " \"events\": [ { \"t_s\": 1, \"what\": \"note\", \"by\": \"Brandt\" } ] }";
    REQUIRE(logbook.add(entry));
    REQUIRE(logbook.add(made_entry(4, name)));
    REQUIRE(logbook.add(made_entry(5, "Odo Rask")));
    for (const Export how : {&export_csv, &export_bites_csv, &export_json}) {
        const std::string text = text_of(how, logbook, true);
        CHECK_THAT(text, !Contains("Brandt") && !Contains("Rask"));
        CHECK_THAT(text, !Contains(entry.id));
        CHECK_THAT(text, Contains(logbook.pseudonym_of(name)) && Contains(logbook.pseudonym_of("Odo Rask")));
        // The same again, and by whoever opens the logbook next.
        CHECK(text == text_of(how, logbook, true));
        Logbook again = opened(place);
        CHECK(text == text_of(how, again, true));
    }
    // In the order of the pseudonyms: one by name would tell which is whose.
    const auto records = records_of(text_of(export_csv, logbook, true));
    CHECK(std::is_sorted(records.begin() + 1, records.end(), [&](const auto& a, const auto& b) {
        return a[column(records, "trainee")] < b[column(records, "trainee")];
    }));
    const json out = json::parse(text_of(export_json, logbook, true));
    for (const json& attempt : out.at("attempts"))
        if (attempt.at("attempt").at("bites").at(0).at("graft_deg") == 77)
            CHECK(attempt.at("attempt").at("trainee") == logbook.pseudonym_of(name));
    CHECK(logbook.pseudonym_of(name) != logbook.pseudonym_of("Odo Rask"));
    // Another logbook has another key: who has one can't look names up in another's export.
    CHECK(opened(backend.fresh()).pseudonym_of(name) != logbook.pseudonym_of(name));
    CHECK(logbook.group_summary(true).trainees.size() == 2);
    CHECK(logbook.group_summary(true).trainees[0].starts_with("trainee-"));
}

TEST_CASE("CSV: no name is a formula, and every name can be had back", "[logbook]") {
    for (const std::string name : {"=HYPERLINK(\"http://x\")", "+1", "-1", "@SUM(A1)", "'quoted", "＝1+1", "Odo", "", "0=1"}) {
        const std::string field = no_formula(name);
        INFO(name);
        CHECK((field == name || field == "'" + name));
        CHECK(field.find_first_of("=+-@") != 0);
        CHECK((field.starts_with("'") ? field.substr(1) : field) == name);
    }
}

TEST_CASE("logbook: fingerprints and keyed pseudonyms are the standard's", "[logbook][standard]") {
    // FIPS 180-4, "abc"; RFC 4231, test case 2 (key "Jefe").
    CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(keyed_hex("Jefe", "what do ya want for nothing?") ==
          "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843");
    CHECK(random_key_hex().size() == 64);
    CHECK(random_key_hex() != random_key_hex());
}
