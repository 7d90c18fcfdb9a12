// The group's page as text: what it says, what it leaves out, and names that want to be markup.
#include "report/group_page.h"

#include <catch2/catch.hpp>

#include "report/group_pictures.h"

using namespace graftwright;
using Catch::Matchers::Contains;

namespace {

std::size_t times(const std::string& text, const std::string& part) {
    std::size_t count = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) ++count;
    return count;
}

// Two trainees at so many levels each.
GroupSummary made_group(int levels) {
    GroupSummary group;
    group.trainees = {"<script>\"Odo\"</script>", "Ilse"};
    group.first_utc = "2026-01-01T00:00:00Z";
    group.last_utc = "2026-02-03T00:00:00Z";
    for (const std::string& trainee : group.trainees)
        for (int l = 0; l < levels; ++l)
            group.practice.push_back({trainee, "level-" + std::to_string(10 + l), 3, 1, group.last_utc, 60.0, 80.0});
    group.attempts = 6 * levels;
    group.losses = {{"", group.attempts, {{Part::optics, 20.0, 35.0}, {Part::seal, 29.0, 30.0}}}};
    group.bites = 200;
    group.flags = {{"not-radial", 42}, {"tight", 3}};
    for (int bite = 1; bite <= 8; ++bite) group.bite_numbers.push_back({bite, 25, 5, 25, bite == 2 ? 1.5 : 0.25, 0.5});
    group.worst_bite = 2;
    for (const SkillInfo& skill : kSkills) group.skills.push_back({&skill, 20, 5, 1, 1, 0});
    return group;
}

}  // namespace

TEST_CASE("group page: says where points go, which bite is worst, and what it is not", "[report]") {
    const std::string html = group_page_html(made_group(3));
    CHECK_THAT(html, Contains("Most points go on optics") && Contains("Bite 2 costs most.") &&
                         Contains("not radial, 21 % of all bites"));
    CHECK_THAT(html, Contains("not a medical device") && Contains("certifies nobody") && Contains("2026-02-03"));
    CHECK(times(html, "<svg ") == 3);
    CHECK_THAT(html, Contains("&lt;script&gt;") && !Contains("<script"));
}

TEST_CASE("group page: many levels stand in tables of eight, so that they can be read and printed", "[report]") {
    CHECK(times(group_page_html(made_group(8)), "<table class=\"practice\">") == 1);
    CHECK(times(group_page_html(made_group(21)), "<table class=\"practice\">") == 3);
    CHECK(times(group_page_html(made_group(21)), ">level-30<") == 1);
}

TEST_CASE("group page: an empty logbook has a page that says so", "[report]") {
    GroupSummary group;
    for (const SkillInfo& skill : kSkills) group.skills.push_back({&skill});
    const std::string html = group_page_html(group);
    CHECK_THAT(html, Contains("No attempt with a score yet.") && Contains("not a medical device"));
    CHECK_THAT(html, !Contains("nan") && !Contains("inf "));
}

TEST_CASE("group page: percentages are honest about small parts and none", "[report]") {
    CHECK(percent(0, 0) == "–");
    CHECK(percent(0, 10) == "0 %");
    CHECK(percent(1, 1000) == "0.1 %");
    CHECK(percent(1, 2) == "50 %");
    CHECK(flag_words("tight") == "tight");
    CHECK(flag_words("something-new") == "something-new");
}
