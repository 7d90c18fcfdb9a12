// Layout, keys, buttons and scripted hands.
#include <set>

#include <catch2/catch.hpp>

#include "files/writer.h"
#include "game/console.h"
#include "game/input.h"
#include "game/levels.h"
#include "run_scenes.h"

namespace graftwright {
namespace {

TEST_CASE("layout: canvas and eye map onto each other both ways in every view", "[game][quick]") {
    for (const bool left : {false, true})
        for (const bool examiner : {false, true}) {
            const Layout layout{left, examiner};
            for (const Point p : {Point{1.0, 2.0}, Point{-3.5, 0.25}}) {
                const Point field = layout.canvas_to_field(layout.field_to_canvas(p));
                const Point section = layout.canvas_to_section(layout.section_to_canvas(p));
                CHECK(field.x == Approx(p.x));
                CHECK(field.y == Approx(p.y));
                CHECK(section.x == Approx(p.x));
                CHECK(section.y == Approx(p.y));
            }
        }
    // The surgeon sees 6 o'clock at the top; the examiner 12, and 3 o'clock on the right.
    const Layout surgeon, examiner{false, true};
    CHECK(surgeon.field_to_canvas({0.0, -4.0}).y < surgeon.field().centre().y);
    CHECK(examiner.field_to_canvas({0.0, 4.0}).y < examiner.field().centre().y);
    CHECK(examiner.field_to_canvas({4.0, 0.0}).x > examiner.field().centre().x);
    CHECK(surgeon.field_to_canvas({4.0, 0.0}).x < surgeon.field().centre().x);
}

TEST_CASE("keys: every command has one, no key has two, and each can be changed", "[game][quick]") {
    KeyBindings keys;
    std::set<std::string> seen;
    for (const KeyBinding& binding : keys.all()) CHECK(seen.insert(binding.key).second);
    for (const Command command : all_commands()) {
        CHECK_FALSE(keys.key_of(command).empty());
        CHECK(command_from_name(command_name(command)) == command);
    }
    keys.bind("7", Command::primary);
    CHECK(keys.command("7") == Command::primary);
    CHECK(keys.command("Space") == Command::none);
    CHECK(command_from_name("nonsense") == Command::none);
}

// What is on the screen at every stage that a hand comes by.
std::vector<Snapshot> every_stage() {
    std::vector<Snapshot> shots;
    scenes::RunTable table(scenes::run_level(Pattern::combined, 8));
    const auto keep = [&] { shots.push_back(table.shot()); };
    table.hand.seen = [&](const std::string&) {
        keep();
        if (shots.back().stage != Stage::bury) return;
        table.game.step({{HandDoes::key, 0.0, 0.0, 0, 0.0, "@bury_donor"}});
        keep();  // a look, after the second bite
    };
    const auto bites_at = [&](const std::vector<double>& places_deg) {
        for (const double deg : places_deg) {
            scenes::MeantBite bite;
            bite.at_deg = deg;
            table.hand.bite(bite);
        }
    };
    bites_at({90.0, 270.0});
    table.hand.switch_running(true);
    bites_at({0.0, 135.0, 225.0});
    keep();  // half laid: more buttons than ever
    table.hand.tie_run(scenes::meant_run(3));
    for (const Command check : {Command::ring_check, Command::leak_check}) {
        table.hand.ask(check);
        keep();
        table.hand.ask(Command::back);
    }
    table.hand.ask(Command::finish);
    keep();
    table.hand.wait(20);
    keep();
    Scenario drill = scenes::run_level(Pattern::interrupted, 4, 4);
    drill.kind = ScenarioKind::read_rings;
    scenes::RunTable asked(drill);
    asked.hand.ask(Command::finish);
    shots.push_back(asked.shot());
    return shots;
}

TEST_CASE("console: buttons stand inside the console, apart, in every stage and on either hand", "[game][quick]") {
    std::set<Stage> stages;
    for (Snapshot shot : every_stage()) {
        stages.insert(shot.stage);
        CHECK_FALSE(shot.title.empty());
        CHECK(shot.offers.empty() == (shot.stage >= Stage::solving));
        for (const bool left : {false, true}) {
            shot.layout.left_handed = left;
            const std::vector<ConsoleButton> buttons = console_buttons(shot, KeyBindings());
            const Rect console = shot.layout.console();
            for (std::size_t i = 0; i < buttons.size(); ++i) {
                const Rect& a = buttons[i].place;
                INFO(shot.title << ", " << buttons[i].label);
                CHECK(a.x >= console.x);
                CHECK(a.x + a.width <= console.x + console.width);
                CHECK(a.y + a.height <= console.y + console.height);
                for (std::size_t k = 0; k < i; ++k) {
                    const Rect& b = buttons[k].place;
                    CHECK((a.x >= b.x + b.width || b.x >= a.x + a.width || a.y >= b.y + b.height || b.y >= a.y + a.height));
                }
            }
        }
    }
    CHECK(stages.size() == static_cast<std::size_t>(Stage::debrief) + 1);
}

TEST_CASE("hand script: what was played is written, read and played again, repeats and all", "[game][quick]") {
    Game game = scenes::new_game();
    scenes::RobotHand(game, scenes::Device::mouse_and_wheel).bite({});
    HandRecord hand;
    hand.started = "2026-01-01T10:00:00Z";
    hand.events = hand_events(game.inputs());
    const auto read = read_hand_record(write_hand(hand), "hand.json");
    REQUIRE(read.ok());
    CHECK(read.value() == hand);
    CHECK(inputs_of(read.value()) == game.inputs());
}

TEST_CASE("hand script: every fault is named with its line", "[game][quick]") {
    const auto faults = [](const std::string& rest) {
        const auto read = read_hand_record("{\"format\":\"graftwright-hand\",\n" + rest, "hand.json");
        return read.ok() ? std::string() : read.faults().front().text();
    };
    CHECK_THAT(faults("nonsense"), Catch::Contains("hand.json:2"));
    CHECK_THAT(faults(R"("version":2,"events":[]})"), Catch::Contains("hand.json:2: version is 2"));
    CHECK_THAT(faults(R"("version":1})"), Catch::Contains("\"events\" is missing"));
    CHECK_THAT(faults(R"("version":1,"events":[{"t_s":-1,"do":"move"}]})"), Catch::Contains("t_s is -1"));
    CHECK_THAT(faults(R"("version":1,"events":[{"t_s":1,"do":"dance"}]})"), Catch::Contains("do is \"dance\""));
    CHECK_THAT(faults(R"("version":1,"tempo":3,"events":[]})"), Catch::Contains("tempo"));
    CHECK_THAT(faults("\"version\":1,\"events\":[{\"t_s\":2,\"do\":\"key\",\"key\":\"A\"},\n"
                      "{\"t_s\":1,\"do\":\"key\",\"key\":\"A\"}]}"),
               Catch::Contains("hand.json:3: t_s is 1, expected at least 2"));
}

TEST_CASE("levels: in the order of the course, a broken one listed last with its reason", "[game][quick]") {
    const auto shipped = read_levels(std::string(GRAFTWRIGHT_SOURCE_DIR) + "/levels");
    REQUIRE(shipped.ok());
    for (const Level& level : shipped.value()) CHECK(level.scenario);
    const auto data = read_levels(std::string(GRAFTWRIGHT_SOURCE_DIR) + "/tests/data");
    REQUIRE(data.ok());
    CHECK_FALSE(data.value().back().scenario);
    CHECK_FALSE(data.value().back().faults.empty());
    CHECK_FALSE(read_levels("/nowhere").ok());
}

}  // namespace
}  // namespace graftwright
