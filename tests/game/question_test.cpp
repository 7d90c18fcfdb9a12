// Question drills played through the devices: the question is asked, answered, kept in the attempt and judged.
#include <algorithm>
#include <map>

#include <catch2/catch.hpp>

#include "base/words.h"
#include "files/writer.h"
#include "game_scenes.h"
#include "score/drill.h"

namespace graftwright {
namespace {

using scenes::Device;
using scenes::RobotHand;

struct Posed {
    std::shared_ptr<const ScenarioModel> model;
    std::shared_ptr<const DrillJudge> judge;
};

// Judging solves every bite's reading: once a level.
Posed posed(const std::string& id) {
    static std::map<std::string, Posed> all;
    Posed& level = all[id];
    if (!level.model) {
        const std::string path = std::string(GRAFTWRIGHT_SOURCE_DIR) + "/levels/" + id + ".json";
        level.model = std::make_shared<const ScenarioModel>(read_scenario(read_text_file(path).value(), path).value());
        level.judge = std::make_shared<const DrillJudge>(*level.model);
    }
    return level;
}

Game game_at(const std::string& id) {
    return Game(posed(id).model, make_inline_service(posed(id).model), GameOptions{});
}

// Goes round with the arrows until the label is under the hand.
void find_choice(Game& game, RobotHand& hand, const std::string& label) {
    for (int i = 0; i < 80; ++i) {
        const QuestionView question = *game.snapshot().question;
        if (question.choices[question.under_hand].label == label) return;
        hand.ask(Command::left);
    }
    FAIL("no choice says " << label);
}
void click_choice(Game& game, RobotHand& hand, const std::string& label) {
    const Snapshot shot = game.snapshot();
    for (const QuestionView::Choice& choice : shot.question->choices)
        if (choice.label == label) {
            const Point at = shot.layout.field_to_canvas(*choice.at);
            using Kind = HandDoes;
            game.step({{Kind::press, at.x, at.y, 0, 0.0, ""}});
            game.step({{Kind::release, at.x, at.y, 0, 0.0, ""}});
            hand.wait(1);
            return;
        }
    FAIL("no choice says " << label);
}
std::string bite_at(const std::string& id, std::size_t bite) {
    return "Bite at " + place_words(posed(id).model->scenario().start.bites[bite].host_deg);
}
void wait_for_debrief(Game& game, RobotHand& hand) {
    for (int i = 0; i < 20 && !game.session().over(); ++i) hand.wait(1);
    REQUIRE(game.session().debrief());
    REQUIRE(game.session().debrief()->drill);
}
// The bite whose redrawing leaves least cylinder, and whether it is tight.
std::pair<std::size_t, bool> culprit(const DrillJudge& judge) {
    const auto& readings = judge.readings();
    const auto best =
        std::min_element(readings.begin(), readings.end(), [](const BiteReading& a, const BiteReading& b) {
            return a.cylinder_D.value_or(1e9) < b.cylinder_D.value_or(1e9);
        });
    return {best->bite, best->tension_mN > best->others_mN};
}
DrillVerdict read_rings(const std::string& id, std::size_t bite, bool loosen, bool by_click) {
    Game game = game_at(id);
    RobotHand hand(game, Device::keyboard);
    hand.wait(30);
    hand.ask(Command::ring_check);
    hand.wait(30);
    CHECK_FALSE(game.snapshot().wound->rigid);
    hand.ask(Command::back);
    hand.ask(Command::finish);
    REQUIRE(game.session().stage() == Stage::answer);
    by_click ? click_choice(game, hand, bite_at(id, bite)) : find_choice(game, hand, bite_at(id, bite));
    hand.ask(Command::primary);
    CHECK(game.snapshot().question->step == 2);
    hand.ask(loosen ? Command::looser : Command::tighter);
    hand.ask(Command::primary);
    wait_for_debrief(game, hand);
    return *game.session().debrief()->drill;
}

}  // namespace

TEST_CASE("questions: reading rings by eye, answered with keys or on the eye", "[game][levels][slow]") {
    const std::string id = GENERATE("rings-too-tight", "rings-too-loose");
    const auto [bite, tight] = culprit(*posed(id).judge);
    CHECK(tight == (id == "rings-too-tight"));
    CHECK(read_rings(id, bite, tight, false).passed);
    CHECK(read_rings(id, bite, tight, true).passed);
    CHECK_FALSE(read_rings(id, bite, !tight, false).passed);
    const std::size_t other = bite == 0 ? 1 : 0;
    CHECK_FALSE(read_rings(id, other, tight, true).passed);
}

TEST_CASE("questions: where it leaks, and a repair in words", "[game][levels][slow]") {
    const auto [id, retie] = GENERATE(table<std::string, bool>({{"find-the-leak", true}, {"gap-in-the-row", false}}));
    const Posed& level = posed(id);
    const double weakest = level.judge->start()->wound.weakest_deg;
    const std::vector<Bite>& bites = level.model->scenario().start.bites;
    const auto nearest =
        static_cast<std::size_t>(std::min_element(bites.begin(), bites.end(),
                                                  [&](const Bite& a, const Bite& b) {
                                                      return std::abs(std::remainder(a.host_deg - weakest, 360.0)) <
                                                             std::abs(std::remainder(b.host_deg - weakest, 360.0));
                                                  }) -
                                 bites.begin());
    const std::string place = place_words(15.0 * std::round(weakest / 15.0));
    Game game = game_at(id);
    RobotHand hand(game, Device::keyboard);
    hand.wait(30);
    hand.ask(Command::finish);
    click_choice(game, hand, place);
    hand.ask(Command::primary);
    // A look back is free, and costs no answer.
    hand.ask(Command::back);
    CHECK(game.snapshot().question->step == 1);
    CHECK(game.snapshot().question->choices[game.snapshot().question->under_hand].label == place);
    hand.ask(Command::primary);
    const QuestionView repair = *game.snapshot().question;
    CHECK(repair.two_sorts);
    if (retie) {
        find_choice(game, hand, "Cut out the bite at " + place_words(bites[nearest].host_deg) + " and lay it anew");
    } else {
        hand.ask(Command::up);
        find_choice(game, hand, "One more bite at " + place);
    }
    hand.ask(Command::primary);
    wait_for_debrief(game, hand);
    INFO(game.session().debrief()->drill->sentence);
    CHECK(game.session().debrief()->drill->passed);

    // The file says it all: judged again from it, and played again from its inputs, the same.
    const Attempt attempt = game.attempt();
    const Result<Attempt> read = read_attempt(write_attempt(attempt), "attempt");
    REQUIRE(read.ok());
    CHECK(level.judge->judge(read.value()).sentence == game.session().debrief()->drill->sentence);
    Game again = game_at(id);
    play_inputs(again, inputs_of(attempt), 60);
    CHECK(write_attempt(again.attempt()) == write_attempt(attempt));
}

TEST_CASE("questions: a leak mended by the hand is asked for its place only", "[game][levels][slow]") {
    const Posed& level = posed("find-the-leak");
    const double weakest = level.judge->start()->wound.weakest_deg;
    const std::vector<Bite>& bites = level.model->scenario().start.bites;
    std::size_t bad = 0;
    for (std::size_t b = 0; b < bites.size(); ++b)
        if (std::abs(std::remainder(bites[b].host_deg - weakest, 360.0)) <
            std::abs(std::remainder(bites[bad].host_deg - weakest, 360.0)))
            bad = b;
    Game game = game_at("find-the-leak");
    RobotHand hand(game, Device::keyboard);
    hand.wait(30);
    hand.ask(Command::next_bite, static_cast<int>(bad) + 2);  // the first press selects the last bite
    REQUIRE(game.snapshot().selected == bad);
    hand.ask(Command::cut_out);
    scenes::MeantBite anew;
    anew.at_deg = bites[bad].host_deg;
    hand.bite(anew);
    hand.ask(Command::finish);
    REQUIRE(game.session().stage() == Stage::answer);
    CHECK(game.snapshot().question->steps == 1);
    find_choice(game, hand, place_words(15.0 * std::round(weakest / 15.0)));
    hand.ask(Command::primary);
    wait_for_debrief(game, hand);
    INFO(game.session().debrief()->drill->sentence);
    CHECK(game.session().debrief()->drill->passed);
}

TEST_CASE("questions: threads to be taken out are picked, or cut by hand", "[game][levels][slow]") {
    const Posed& level = posed("selective-removal");
    std::vector<double> sorted = level.judge->start()->tension_mN;
    std::nth_element(sorted.begin(), sorted.begin() + static_cast<long>(sorted.size() / 2), sorted.end());
    const double usual = sorted[sorted.size() / 2];
    std::vector<std::size_t> tight;
    for (std::size_t b = 0; b < level.judge->start()->tension_mN.size(); ++b)
        if (level.judge->start()->tension_mN[b] > 1.4 * usual) tight.push_back(b);
    REQUIRE(!tight.empty());
    const bool by_hand = GENERATE(false, true);
    Game game = game_at("selective-removal");
    RobotHand hand(game, Device::keyboard);
    hand.wait(30);
    if (by_hand) {
        for (const std::size_t bite : tight) {
            while (game.snapshot().selected != bite) hand.ask(Command::next_bite);
            hand.ask(Command::cut_out);
        }
        hand.ask(Command::finish);
    } else {
        hand.ask(Command::finish);
        hand.ask(Command::primary);  // nothing picked: not taken for an answer
        CHECK(game.session().stage() == Stage::answer);
        for (const std::size_t bite : tight) click_choice(game, hand, bite_at("selective-removal", bite));
        click_choice(game, hand, bite_at("selective-removal", 0));  // and thought better of
        click_choice(game, hand, bite_at("selective-removal", 0));
        hand.ask(Command::primary);
    }
    wait_for_debrief(game, hand);
    INFO(game.session().debrief()->drill->sentence);
    CHECK(game.session().debrief()->drill->passed);
}

TEST_CASE("questions: going back from the first step leaves the question", "[game][levels]") {
    Game game = game_at("selective-removal");
    RobotHand hand(game, Device::keyboard);
    hand.ask(Command::finish);
    REQUIRE(game.session().stage() == Stage::answer);
    hand.ask(Command::back);
    CHECK(game.session().stage() == Stage::aim);
    CHECK_FALSE(game.snapshot().question);
}

}  // namespace graftwright
