// A drill's question on the field, the lesson's pointer on the console, and the answer in the debrief.
#include <catch2/catch.hpp>

#include "../game/game_scenes.h"
#include "game/levels.h"
#include "pictures.h"
#include "screens_fixture.h"
#include "stand.h"
#include "view/debrief/debrief_screen.h"
#include "view/window/level_words.h"

namespace graftwright {
namespace {

QuestionView two_places() {
    QuestionView question;
    question.words = "Where does it leak?";
    for (const Point at : {Point{3.9, 0.0}, Point{0.0, -3.9}}) {
        QuestionView::Choice choice;
        choice.label = "there";
        choice.at = at;
        question.choices.push_back(choice);
    }
    return question;
}

}  // namespace

TEST_CASE("view: choices are marked where they lie, and the one under the hand stands out", "[view]") {
    Game game = scenes::new_game();
    Snapshot shot = game.snapshot();
    shot.plane.reset();
    shot.stage = Stage::answer;
    const sf::Image before = picture_of(shot);
    shot.question = two_places();
    const sf::Image first = picture_of(shot);
    const Point hand = shot.layout.field_to_canvas(*shot.question->choices[0].at);
    const Point other = shot.layout.field_to_canvas(*shot.question->choices[1].at);
    CHECK(changed(before, first, hand, 20) > changed(before, first, other, 20));
    CHECK(changed(before, first, other, 8) > 20);
    CHECK(changed(before, first, shot.layout.field_to_canvas({-2.0, 4.5}), 20) == 0);
    shot.question->under_hand = 1;
    CHECK(changed(first, picture_of(shot), other, 20) > 100);
    shot.question->choices[0].picked = true;
    const sf::Image picked = picture_of(shot);
    shot.question->choices[0].picked = false;
    CHECK(changed(picked, picture_of(shot), hand, 12) > 100);
}

TEST_CASE("view: the lesson points at the button it speaks of", "[view]") {
    Game game = scenes::new_game();
    Snapshot shot = game.snapshot();
    const sf::Image before = picture_of(shot);
    for (ConsoleButton& button : shot.buttons) button.asked = button.command == Command::forceps;
    const sf::Image after = picture_of(shot);
    for (const ConsoleButton& button : shot.buttons) {
        CAPTURE(button.label);
        const int here = changed(before, after, {button.place.x + 3.0, button.place.y + 3.0}, 8);
        CHECK((here > 30) == button.asked);
    }
}

TEST_CASE("debrief: a question opens on its answer, before beside after", "[view]") {
    DrillAnswer answer;
    answer.at_deg = 210.0;
    answer.retie = 7;
    const Snapshot shot = answered("find-the-leak", answer);
    REQUIRE(shot.debrief->posed);
    REQUIRE(shot.debrief->answered);
    CHECK(shot.debrief->answered->seal_mmHg != shot.debrief->posed->seal_mmHg);
    Stand stand;
    DebriefScreen screen;
    for (int i = 0; i < 3; ++i)
        CHECK(stand.frame([&](Ui& ui) { return screen.draw(ui, shot, ""); }) == DebriefChoice::none);
    CHECK(stand.widgets.ui().place_of("Answer").width > 0.0);
    CHECK(stand.widgets.ui().place_of("Marks").width == 0.0);
}

TEST_CASE("start: every shipped level says what it takes to pass", "[view][levels]") {
    const auto levels = read_levels(GRAFTWRIGHT_SOURCE_DIR "/levels");
    REQUIRE(levels.ok());
    for (const Level& level : levels.value()) {
        REQUIRE(level.scenario);
        CAPTURE(level.scenario->id, pass_words(*level.scenario));
        CHECK(pass_words(*level.scenario) != "no limit is set");
    }
    Scenario depth;
    depth.pass.least_depth_fraction = 0.86;
    CHECK(pass_words(depth).find("depth at least 86 %") != std::string::npos);
}

}  // namespace graftwright
