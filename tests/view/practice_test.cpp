// The game's side of the logbook: nothing waits for it, nothing is lost by it; and the trainee's screen by mouse.
#include "view/practice/practice.h"
#include "view/window/start_screen.h"

#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <thread>

#include <catch2/catch.hpp>

#include "../logbook/backends.h"
#include "../logbook/postgres_server.h"
#include "../scenes/silent_server.h"
#include "practice_fixture.h"
#include "screens_fixture.h"
#include "stand.h"

namespace graftwright {
namespace {

using Catch::Matchers::Contains;
using test::TemporaryFolder;
using Clock = std::chrono::steady_clock;

// No call of the window's may take as long as a frame has; a busy machine gets some more.
constexpr double kLongestCall_ms = 50.0;

double ms_since(Clock::time_point start) {
    return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

FinishedAttempt finished(const std::string& trainee, int turn, std::optional<bool> drill = {}) {
    const Snapshot shot = without_closure();
    auto debrief = std::make_shared<Debrief>(*shot.debrief);
    debrief->attempt.trainee = trainee;
    Scenario scenario = *shot.scenario;
    if (drill) {
        scenario.id = "depth-alone";
        scenario.kind = ScenarioKind::depth;
        debrief->drill.emplace();
        debrief->drill->passed = *drill;
    }
    return {scenario, trainee + std::to_string(turn), debrief, "2026-03-01T09:30:00Z"};
}

// What the keeper has to tell within ten seconds.
template <typename Has>
LogbookNews news_that(LogbookKeeper& keeper, const Has& has) {
    for (const Clock::time_point start = Clock::now(); ms_since(start) < 10'000.0;) {
        LogbookNews news = keeper.news();
        if (has(news)) return news;
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    FAIL("the keeper stays silent");
    return {};
}
bool about_keeping(const LogbookNews& news) { return news.kept.has_value(); }

TEST_CASE("keeper: an attempt handed in is in the logbook, and its page and level come back", "[view][logbook]") {
    const TemporaryFolder folder;
    const LogbookPlace place = LogbookPlace::of(folder.file("data/logbook.sqlite"));
    LogbookKeeper keeper(place, {}, "0.1.0");
    keeper.keep(finished("heron", 1));
    keeper.keep(finished("heron", 2, true));
    keeper.keep(finished("heron", 3, false));
    keeper.ask_page("heron", "");
    CHECK(news_that(keeper, [](const LogbookNews& news) { return news.page != nullptr; }).page->attempts_in_all == 3);
    keeper.ask_levels("heron");
    const LogbookNews news = news_that(keeper, [](const LogbookNews& one) { return one.levels.has_value(); });
    REQUIRE(news.levels->size() == 2);
    CHECK(news.levels->at(0).scenario == "depth-alone");
    CHECK(news.levels->at(0).attempts == 2);
    CHECK(news.levels->at(0).passed == 1);
    CHECK(keeper.finish().empty());
    Logbook logbook = test::opened(place);
    for (const Entry& entry : test::all_entries(logbook)) {
        CHECK(entry.trainee == "heron");
        CHECK(entry.program == "0.1.0");
        CHECK(entry.attempt_text.starts_with("heron"));
    }
}

TEST_CASE("keeper: what is in hand at the end is entered before the program ends", "[view][logbook]") {
    const TemporaryFolder folder;
    const LogbookPlace place = LogbookPlace::of(folder.file("logbook.sqlite"));
    {
        LogbookKeeper keeper(place, {}, "0.1.0");
        for (int turn = 0; turn < 20; ++turn) keeper.keep(finished("heron", turn));
    }
    CHECK(test::opened(place).count() == 20);
}

TEST_CASE("keeper: a server that never answers holds up no frame, and the reason is told", "[view][logbook]") {
    const test::SilentServer server(test::SilentServer::Manner::says_nothing);
    const std::string url = server.url("?connect_timeout=2");
    const FinishedAttempt attempt = finished("heron", 1);
    LogbookKeeper keeper(LogbookPlace::of(url), {}, "0.1.0");
    double longest_ms = 0.0;
    std::optional<std::string> kept;
    const Clock::time_point begin = Clock::now();
    keeper.keep(attempt);
    keeper.ask_page("heron", "");
    for (int frame = 0; frame < 600 && !kept; ++frame) {
        const Clock::time_point start = Clock::now();
        keeper.ask_levels("heron");
        kept = keeper.news().kept;
        longest_ms = std::max(longest_ms, ms_since(start));
        std::this_thread::sleep_for(std::chrono::milliseconds(16));
    }
    CHECK(ms_since(begin) > 1'000.0);  // it did wait, on its own thread
    CHECK(longest_ms < kLongestCall_ms);
    REQUIRE(kept);
    CHECK_THAT(*kept, Contains("127.0.0.1") && !Contains("sesame"));
    CHECK_FALSE(keeper.finish().empty());
}

TEST_CASE("keeper: a server that freezes is given up, and what it missed goes in with the next attempt",
          "[view][logbook][slow]") {
    test::PostgresBackend server;
    const LogbookPlace place = server.fresh();
    LogbookOptions options;
    options.limits.connect_s = 2;
    options.limits.answer_s = 3;
    {
        LogbookKeeper keeper(place, options, "0.1.0");
        keeper.keep(finished("heron", 1));
        REQUIRE(news_that(keeper, about_keeping).kept->empty());
        const pid_t behind = server.process_behind(place);
        REQUIRE(kill(behind, SIGSTOP) == 0);
        keeper.keep(finished("heron", 2));
        CHECK_THAT(*news_that(keeper, about_keeping).kept, Contains("no answer within 3 s"));
        kill(behind, SIGCONT);
        keeper.keep(finished("heron", 3));
        CHECK(news_that(keeper, about_keeping).kept->empty());
        CHECK(keeper.finish().empty());
    }
    CHECK(test::opened(place).count() == 3);
}

TEST_CASE("keeper: the program ends soon although the server is silent, and says what is not in the logbook",
          "[view][logbook]") {
    const test::SilentServer server(test::SilentServer::Manner::lets_in);
    LogbookOptions options;
    options.limits.connect_s = 2;
    options.limits.answer_s = 3;
    LogbookKeeper keeper(LogbookPlace::of(server.url()), options, "0.1.0");
    const Clock::time_point start = Clock::now();
    keeper.keep(finished("heron", 1));
    CHECK_THAT(keeper.finish(), Contains("no answer within 3 s") && !Contains("sesame"));
    CHECK(ms_since(start) < 8'000.0);
}

TEST_CASE("keeper: an attempt that could not be entered goes in with the next one", "[view][logbook]") {
    const TemporaryFolder folder;
    const std::string in_the_way = folder.file("data");
    std::ofstream(in_the_way) << "a file where the folder should be";
    const LogbookPlace place = LogbookPlace::of(in_the_way + "/logbook.sqlite");
    LogbookKeeper keeper(place, {}, "0.1.0");
    keeper.keep(finished("heron", 1));
    CHECK_FALSE(news_that(keeper, about_keeping).kept->empty());
    std::filesystem::remove(in_the_way);
    keeper.keep(finished("heron", 2));
    CHECK(news_that(keeper, about_keeping).kept->empty());
    CHECK(keeper.finish().empty());
    CHECK(test::opened(place).count() == 2);
}

TEST_CASE("keeper: the usual logbook, damaged, is moved aside whole and practice goes on", "[view][logbook]") {
    const TemporaryFolder folder;
    const std::string path = folder.file("logbook.sqlite"), bad(9000, 'x');
    std::ofstream(path) << bad;
    Practice practice("", path, "0.1.0", {});
    practice.keep(finished("heron", 1));
    const Clock::time_point start = Clock::now();
    while (practice.kept_words().empty() && ms_since(start) < 10'000.0) practice.update();
    CHECK(practice.kept_words() == "In the logbook.");
    CHECK_THAT(practice.notice(), Contains(path + ".damaged-1"));
    std::ifstream aside(path + ".damaged-1");
    CHECK(std::string(std::istreambuf_iterator<char>(aside), {}) == bad);

    // One that was named is not begun anew: its owner is told, and the attempt's file is what there is.
    const std::string named = folder.file("named.sqlite");
    std::ofstream(named) << bad;
    Practice other(named, path, "0.1.0", {});
    other.keep(finished("heron", 1));
    const Clock::time_point again = Clock::now();
    while (other.kept_words().empty() && ms_since(again) < 10'000.0) other.update();
    CHECK_THAT(other.kept_words(), Contains("Not in the logbook"));
    CHECK_THAT(other.notice(), Contains("only in its file") && Contains("damaged"));
    std::ifstream left(named);
    CHECK(std::string(std::istreambuf_iterator<char>(left), {}) == bad);
}

TEST_CASE("practice: the course shows the best total and whether a level was ever passed", "[view][logbook]") {
    StartModel course;
    for (const char* id : {"sixteen", "eight", "depth-alone"}) {
        course.levels.emplace_back();
        course.levels.back().scenario.id = id;
    }
    course.levels.back().best = 12.0;  // of another label, before
    fill_in(course, {{"depth-alone", 2, 1, std::nullopt}, {"sixteen", 3, 0, 61.5}});
    CHECK(course.levels[0].best == 61.5);
    CHECK_FALSE(course.levels[0].passed);
    CHECK_FALSE(course.levels[1].best);
    CHECK(course.levels[1].attempts == 0);
    CHECK_FALSE(course.levels[2].best);
    CHECK(course.levels[2].passed);
}

TEST_CASE("practice: level, page and the way out are chosen by mouse; every page draws", "[view][logbook]") {
    const TemporaryFolder folder;
    Logbook logbook = group_logbook(folder.file(""));
    const TraineeModel model = trainee_model(logbook, "heron", "");
    Stand stand;
    TraineeScreen screen;
    const auto draw = [&](Ui& ui) { return screen.draw(ui, model); };
    const auto chosen_by = [&](const char* label) {
        for (int i = 0; i < 3; ++i) (void)stand.frame(draw);
        stand.click(stand.widgets.ui().place_of(label));
        TraineeChoice choice;
        for (int i = 0; i < 6 && choice.what == TraineeChoice::What::none; ++i) choice = stand.frame(draw);
        return choice;
    };
    std::vector<sf::Image> pages;
    for (const char* tab : {"Progress", "Hand", "Skills"}) {
        CHECK(chosen_by(tab).what == TraineeChoice::What::none);
        pages.push_back(stand.picture());
    }
    CHECK(changed(pages[0], pages[1], {760.0, 400.0}, 300.0) > 2000);
    CHECK(changed(pages[1], pages[2], {760.0, 400.0}, 300.0) > 2000);
    const TraineeChoice level = chosen_by("##practice sixteen");
    CHECK(level.what == TraineeChoice::What::level);
    CHECK(level.scenario == "sixteen");
    CHECK(chosen_by("Done").what == TraineeChoice::What::done);
}

TEST_CASE("practice: an empty page, a single attempt and 100,000 trials draw without harm", "[view][logbook]") {
    const TemporaryFolder folder;
    Logbook logbook = group_logbook(folder.file(""));
    Entry single = practised("wren", 1, 9).front();
    single.trainee = "one";
    single.id = "another";
    REQUIRE(logbook.add(single));
    TraineeModel many = trainee_model(logbook, "heron", "");
    TraineePage long_page = *many.page;
    for (int i = 0; i < 100'000; ++i) long_page.skills[0].cusum.add(i % 7 != 0);
    many.page = std::make_shared<const TraineePage>(long_page);
    TraineeModel away = many;
    away.page.reset();
    away.fault = "no route to the clinic";
    Stand stand;
    using Page = TraineeScreen::Page;
    for (const TraineeModel& model :
         {trainee_model(logbook, "nobody", ""), trainee_model(logbook, "one", ""), many, away}) {
        for (const Page page : {Page::progress, Page::hand, Page::skills}) {
            TraineeScreen screen;
            screen.show(page);
            for (int i = 0; i < 3; ++i)
                CHECK(stand.frame([&](Ui& ui) { return screen.draw(ui, model); }).what == TraineeChoice::What::none);
        }
    }
}

TEST_CASE("start: My practice is a button away", "[view][logbook]") {
    Stand stand;
    StartScreen screen;
    const StartModel start = course_with_broken_levels();
    const auto draw = [&](Ui& ui) { return screen.draw(ui, start); };
    for (int i = 0; i < 3; ++i) (void)stand.frame(draw);
    stand.click(stand.widgets.ui().place_of("My practice"));
    StartChoice choice;
    for (int i = 0; i < 6 && choice.what == StartChoice::What::none; ++i) choice = stand.frame(draw);
    CHECK(choice.what == StartChoice::What::practice);
}

}  // namespace
}  // namespace graftwright
