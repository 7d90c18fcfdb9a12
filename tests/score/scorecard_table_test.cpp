// The scorecard as people read it on a console.
#include "score/scorecard_table.h"

#include <regex>
#include <sstream>

#include <catch2/catch.hpp>

#include "../scenes/attempts.h"
#include "score/scorecard.h"

using namespace graftwright;
using Catch::Matchers::Contains;

namespace {

struct Told {
    Scenario scenario = scenes::standard_scenario();
    Attempt attempt;
    Scorecard card;

    explicit Told(int bites) {
        attempt.bites = scenes::even_bites(scenario, bites);
        if (bites > 1) attempt.bites[1].host_deg += 11.0;
        ScoreOptions options;
        options.shares = bites > 2;
        card = score_attempt(ScenarioModel(scenario, scenes::coarse_options()), attempt, options);
    }
    [[nodiscard]] std::string table() const { return scorecard_table(scenario, attempt, card); }
};

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

}  // namespace

TEST_CASE("table: units, places and signs are written for people", "[score]") {
    const Told six(6);
    REQUIRE(six.card.converged());
    const std::string table = six.table();
    CHECK_THAT(table, Contains("µm RMS") && !Contains(" um") && !Contains(" uL") && !Contains("slot"));
    CHECK(std::regex_search(table, std::regex("weakest at [0-9]+:[03]0 \\([0-9]+°\\)\n")));
    // The bite under its place: 6 o'clock and 11° on, off its mark by less, for the others are off theirs too.
    CHECK(std::regex_search(table, std::regex("Bite 2 at 5:30 \\(281°\\), \\+[0-9]+° off its mark")));
    CHECK_THAT(table, Contains("not radial, off its mark"));
    CHECK_THAT(scorecard_explanation(six.card), Contains(" µm") && !Contains(" um") && !Contains(" deg"));
    CHECK_FALSE(std::regex_search(scorecard_explanation(six.card), std::regex("\\bT[0-9]+-[0-9]{2}\\b")));
}

TEST_CASE("table: the columns of every bite end where their heads do, in plain figures", "[score]") {
    const Told six(6);
    const std::vector<std::string> lines = lines_of(six.table());
    std::size_t head = 0;
    while (head < lines.size() && !lines[head].starts_with("bite  ")) ++head;
    REQUIRE(head + 6 < lines.size());
    bool negative = false;
    for (std::size_t b = 1; b <= 6; ++b) {
        const std::string& row = lines[head + b];
        for (const char* column : {"bite", "o'clock", "at deg", "now mN", "leak mmHg", "radial", "off mark"}) {
            INFO(row << "\n" << column);
            const std::size_t end = lines[head].find(column) + std::string(column).size();
            REQUIRE(row.size() >= end);
            CHECK(std::isdigit(static_cast<unsigned char>(row[end - 1])) != 0);
            CHECK((row.size() == end || row[end] == ' '));
        }
        CHECK_THAT(row, !Contains("−"));
        negative = negative || row.find(" -") != std::string::npos;
    }
    CHECK(negative);
}

TEST_CASE("table: one bite is one bite", "[score]") {
    CHECK_THAT(Told(1).table(), Contains(" — 1 bite\n"));
    CHECK_THAT(Told(6).table(), Contains(" — 6 bites\n"));
}
