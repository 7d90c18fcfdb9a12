// The screens made of widgets, by mouse and by keys, as a window would give the events.
#include <SFML/Graphics.hpp>
#include <catch2/catch.hpp>

#include "../game/game_scenes.h"
#include "stand.h"
#include "view/debrief/debrief_screen.h"
#include "view/kit/widgets.h"
#include "view/window/keys_screen.h"
#include "view/window/start_screen.h"

namespace graftwright {
namespace {

StartModel model() {
    StartModel start;
    LevelEntry sound;
    sound.scenario = scenes::sixteen(16);
    LevelEntry broken;
    broken.file = "broken.json";
    broken.faults = {{"broken.json", 3, "pressure_mmHg is -5, expected 0 to 80"}};
    start.levels = {sound, broken};
    return start;
}

TEST_CASE("start: a short tap on the button starts the level", "[view]") {
    Stand stand;
    StartScreen screen;
    const StartModel start = model();
    const auto draw = [&](Ui& ui) { return screen.draw(ui, start); };
    for (int i = 0; i < 3; ++i) (void)stand.frame(draw);
    stand.click(stand.widgets.ui().place_of("Start this level"));
    StartChoice choice;
    for (int i = 0; i < 6 && choice.what == StartChoice::What::none; ++i) choice = stand.frame(draw);
    CHECK(choice.what == StartChoice::What::play);
    CHECK(choice.level_id == "sixteen");
}

TEST_CASE("start: keys alone start the level; a broken one says why and can't be started", "[view]") {
    Stand stand;
    StartScreen screen;
    const StartModel start = model();
    const auto draw = [&](Ui& ui) { return screen.draw(ui, start); };
    for (int i = 0; i < 4; ++i) (void)stand.frame(draw);
    stand.key(sf::Keyboard::Enter);
    StartChoice choice;
    for (int i = 0; i < 6 && choice.what == StartChoice::What::none; ++i) choice = stand.frame(draw);
    CHECK(choice.what == StartChoice::What::play);

    stand.click(stand.widgets.ui().place_of("##level broken.json"));
    for (int i = 0; i < 6; ++i) (void)stand.frame(draw);
    stand.key(sf::Keyboard::Enter);
    choice = {};
    for (int i = 0; i < 6; ++i) {
        const StartChoice now = stand.frame(draw);
        if (now.what != StartChoice::What::none) choice = now;
    }
    CHECK(choice.what == StartChoice::What::none);
}

TEST_CASE("start: a label takes accents, and the choice carries it", "[view]") {
    Stand stand;
    StartScreen screen;
    const StartModel start = model();
    const auto draw = [&](Ui& ui) { return screen.draw(ui, start); };
    for (int i = 0; i < 3; ++i) (void)stand.frame(draw);
    stand.click(stand.widgets.ui().place_of("##trainee"));
    for (int i = 0; i < 4; ++i) (void)stand.frame(draw);
    stand.type(U"Füchsin 7");
    StartChoice choice;
    for (int i = 0; i < 4; ++i) choice = stand.frame(draw);
    CHECK(choice.settings.trainee == "F\u00fcchsin 7");
}

TEST_CASE("keys: a new key takes over and the loser is told", "[view]") {
    Stand stand;
    KeysScreen screen;
    KeyBindings keys;
    const auto draw = [&](Ui& ui) { return screen.draw(ui, keys); };
    for (int i = 0; i < 3; ++i) (void)stand.frame(draw);
    stand.click(stand.widgets.ui().place_of("##key primary"));
    for (int i = 0; i < 6; ++i) (void)stand.frame(draw);
    REQUIRE(screen.awaits_key());
    screen.take_key("R", keys);
    CHECK(keys.command("R") == Command::primary);
    CHECK(keys.key_of(Command::ring_check).empty());
    for (const Command command : all_commands()) CHECK(command_words(command) != command_name(command));
}

TEST_CASE("debrief: a scored attempt and one without balance both have their screen", "[view]") {
    Stand stand;
    for (const int bites : {4, 1}) {
        Game game = scenes::new_game();
        scenes::play_bites(game, bites);
        scenes::RobotHand(game, scenes::Device::keyboard).finish();
        REQUIRE(game.session().debrief());
        const Snapshot shot = game.snapshot();
        CHECK(shot.debrief->card.converged() == (bites == 4));
        DebriefScreen screen;
        DebriefChoice choice = DebriefChoice::none;
        const auto draw = [&](Ui& ui) { return screen.draw(ui, shot, ""); };
        for (int i = 0; i < 3; ++i) (void)stand.frame(draw);
        stand.click(stand.widgets.ui().place_of("Levels"));
        for (int i = 0; i < 6 && choice == DebriefChoice::none; ++i) choice = stand.frame(draw);
        CHECK(choice == DebriefChoice::levels);
    }
}

}  // namespace
}  // namespace graftwright
