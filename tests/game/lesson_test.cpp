// The first three minutes: each step waits for the hand, follows it where it goes, and changes nothing.
#include <set>

#include <catch2/catch.hpp>

#include "files/writer.h"
#include "game/levels.h"
#include "game_scenes.h"

namespace graftwright {
namespace {

using scenes::Device;
using scenes::RobotHand;

std::shared_ptr<const ScenarioModel> first_level(bool lesson) {
    const std::string path = std::string(GRAFTWRIGHT_SOURCE_DIR) + "/levels/first-bite.json";
    Scenario scenario = read_scenario(read_text_file(path).value(), path).value();
    scenario.task.hand.lesson = lesson;
    return std::make_shared<const ScenarioModel>(scenario);
}

struct Played {
    Attempt attempt;
    std::vector<int> steps;  // as they came
    int asked = 0;
};

Played all_of_it(bool lesson) {
    const auto model = first_level(lesson);
    Game game(model, make_inline_service(model), GameOptions{});
    Played played;
    const auto look = [&] {
        if (const auto view = game.snapshot().lesson) {
            if (played.steps.empty() || played.steps.back() != view->step) played.steps.push_back(view->step);
            played.asked = view->steps;
        }
    };
    RobotHand hand(game, Device::mouse_and_wheel);
    const auto ask = [&](Command command, int times = 1) {
        hand.ask(command, times);
        look();
    };
    hand.wait(30);
    look();
    const auto step_now = [&] { return game.snapshot().lesson ? game.snapshot().lesson->step : 0; };
    hand.seen = [&](const std::string&) {
        look();
        const int before = step_now();
        hand.wait(600);  // two and a half seconds of nothing
        CHECK(step_now() == before);
    };
    hand.bite({});
    hand.wait(2);
    look();
    ask(Command::ring_check);
    ask(Command::back);
    ask(Command::leak_check);
    for (const Command step : {Command::wash, Command::sweep, Command::dry, Command::stain}) ask(step);
    ask(Command::raise_pressure, 3);
    ask(Command::back);
    ask(Command::next_bite);
    ask(Command::cut_out);
    hand.bite({});
    hand.wait(2);
    look();
    hand.finish();
    REQUIRE(game.session().over());
    played.attempt = game.attempt();
    return played;
}

}  // namespace

TEST_CASE("lesson: a hand that does as it is told goes through every step, and no step ends by itself", "[game][levels]") {
    const Played played = all_of_it(true);
    // The first four are done within one bite's aim and may come together; none is left out later.
    const std::set<int> seen(played.steps.begin(), played.steps.end());
    CHECK(std::is_sorted(played.steps.begin(), played.steps.end()));
    CHECK(*seen.rbegin() == played.asked);
    for (int step = 13; step <= played.asked; ++step) {
        INFO(step);
        CHECK(seen.count(step) == 1);
    }
}

TEST_CASE("lesson: it changes nothing that is kept", "[game][levels]") {
    CHECK(write_attempt(all_of_it(true).attempt) == write_attempt(all_of_it(false).attempt));
}

TEST_CASE("lesson: a needle taken out again takes the lesson back, a hand ahead is followed", "[game][levels][quick]") {
    const auto model = first_level(true);
    Game game(model, make_inline_service(model), GameOptions{});
    RobotHand hand(game, Device::keyboard);
    const auto words = [&] { return game.snapshot().lesson->words; };
    hand.wait(10);
    CHECK(words().starts_with("Hold"));
    CHECK(game.snapshot().prompt == words());
    hand.ask(Command::evert_more);  // nothing is held yet
    CHECK(words().starts_with("Hold"));
    hand.ask(Command::forceps);
    CHECK(words().starts_with("Lift"));
    hand.ask(Command::primary);  // ahead of the lesson
    CHECK(words().starts_with("Steepen"));
    hand.ask(Command::back);
    CHECK(words().starts_with("Aim"));
}

TEST_CASE("lesson: its words name the keys as they are bound, and the console points at its buttons", "[game][levels][quick]") {
    KeyBindings keys;
    keys.bind("F7", Command::forceps);
    for (const std::string& words : lesson_words(keys)) {
        CAPTURE(words);
        CHECK(words.find('{') == std::string::npos);
        CHECK(words.size() < 150);  // two lines of the console
    }
    CHECK(lesson_words(keys).front().find("F7") != std::string::npos);
    const auto model = first_level(true);
    Game game(model, make_inline_service(model), GameOptions{});
    game.step({});
    int pointed = 0;
    for (const ConsoleButton& button : game.snapshot().buttons) {
        if (!button.asked) continue;
        ++pointed;
        CHECK(button.command == Command::forceps);
    }
    CHECK(pointed == 1);
}

TEST_CASE("levels: every later level says what is new", "[game][levels][quick]") {
    const auto levels = read_levels(std::string(GRAFTWRIGHT_SOURCE_DIR) + "/levels");
    REQUIRE(levels.ok());
    int lessons = 0;
    for (const Level& level : levels.value()) {
        REQUIRE(level.scenario);
        CAPTURE(level.scenario->id);
        lessons += level.scenario->task.hand.lesson ? 1 : 0;
        if (level.scenario->order > 0) CHECK(level.scenario->briefing.find("New here:") != std::string::npos);
    }
    CHECK(lessons == 1);
}

}  // namespace graftwright
