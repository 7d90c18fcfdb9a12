// Events as a window gives them, down to the widgets: short taps, moves, wheel, text, scale.
#include <SFML/Graphics.hpp>
#include <catch2/catch.hpp>

#include "screens_fixture.h"
#include "view/debrief/debrief_screen.h"
#include "view/kit/widgets.h"
#include "view/window/pause_screen.h"
#include "view/window/sound.h"
#include "view/window/start_screen.h"

namespace graftwright {
namespace {

class Table {
  public:
    explicit Table(unsigned width = 1280, unsigned height = 800) : size_(width, height) {
        REQUIRE(target_.create(width, height));
        REQUIRE(target_.setActive(true));
    }
    // So many frames; returns the last frame's answer, or the first that `stop` takes.
    template <typename Draw, typename Stop>
    auto frames(int count, const Draw& draw, const Stop& stop) {
        for (;;) {
            REQUIRE(target_.setActive(true));
            widgets.begin(0.02F, size_);
            auto answer = draw(widgets.ui());
            target_.clear();
            widgets.draw(target_);
            target_.display();
            if (--count <= 0 || stop(answer)) return answer;
        }
    }
    void key(sf::Keyboard::Key code) {
        sf::Event event{};
        event.key.code = code;
        for (const auto type : {sf::Event::KeyPressed, sf::Event::KeyReleased}) {
            event.type = type;
            widgets.handle(event);
        }
    }
    void move(Point at) {
        sf::Event event{};
        event.type = sf::Event::MouseMoved;
        event.mouseMove = {static_cast<int>(at.x), static_cast<int>(at.y)};
        widgets.handle(event);
    }
    void button(sf::Event::EventType type, Point at) {
        sf::Event event{};
        event.type = type;
        event.mouseButton = {sf::Mouse::Left, static_cast<int>(at.x), static_cast<int>(at.y)};
        widgets.handle(event);
    }
    void click(std::string_view name) {
        const Rect place = widgets.ui().place_of(name);
        REQUIRE(place.width > 0.0);
        move(place.centre());
        button(sf::Event::MouseButtonPressed, place.centre());
        button(sf::Event::MouseButtonReleased, place.centre());
    }
    Widgets widgets;

  private:
    sf::Vector2u size_;
    sf::RenderTexture target_;
};

constexpr int kSettle = 4, kReply = 8;  // frames: for the layout, for an event to come through
const auto kNever = [](const auto&) { return false; };
const auto kChosen = [](const StartChoice& choice) { return choice.what != StartChoice::What::none; };

// A start screen on a table, settled.
struct Start {
    Table table;
    StartScreen screen;
    StartModel model = course_with_broken_levels();
    explicit Start(unsigned width = 1280, unsigned height = 800) : table(width, height) { run(kSettle); }
    StartChoice run(int frames = kReply) {
        return table.frames(
            frames, [&](Ui& ui) { return screen.draw(ui, model); }, kChosen);
    }
};

TEST_CASE("widgets: a click counts where it was made, though the pointer leaves in the same frame", "[view]") {
    Start start;
    start.table.click("Left-handed");
    start.table.move({5.0, 5.0});
    CHECK(start.run().settings.left_handed);
}

TEST_CASE("widgets: two taps in one frame are two taps", "[view]") {
    Start start;
    start.table.click("Left-handed");
    start.table.click("Left-handed");
    start.table.click("Left-handed");
    CHECK(start.run(3 * kReply).settings.left_handed);
}

TEST_CASE("start: by mouse alone every choice can be made", "[view]") {
    using What = StartChoice::What;
    for (const auto& [name, what] : {std::pair{"Start this level", What::play},
                                     {"Continue it", What::go_on},
                                     {"Set it aside", What::set_aside},
                                     {"Keys", What::keys},
                                     {"Quit", What::quit}}) {
        Start start;
        start.table.click(name);
        CHECK(start.run().what == what);
    }
    Start start;
    for (const char* name : {"Examiner's", "Reduced motion", "Sound", "##level depth"}) start.table.click(name);
    start.table.click("##level small-donor");
    start.run(4 * kReply);
    start.table.click("Start this level");
    const StartChoice choice = start.run();
    CHECK(choice.level_id == "small-donor");
    CHECK(choice.settings.examiner_view);
    CHECK(choice.settings.reduced_motion);
    CHECK_FALSE(choice.settings.sound);
}

TEST_CASE("start: of several interrupted attempts each can be had, the latest first", "[view]") {
    Start start;
    start.model.interrupted = {{"third.jsonl", "Eight", "heron", 1, 60.0},
                               {"second.jsonl", "Sixteen", "heron", 2, 70.0},
                               {"first.jsonl", "Eight", "heron", 3, 80.0}};
    const auto taken = [&](const char* button) {
        start.run(kSettle);
        start.table.click(button);
        return start.run().path;
    };
    CHECK(taken("Continue it") == "third.jsonl");
    CHECK(taken("Another").empty());
    CHECK(taken("Continue it") == "second.jsonl");
    (void)taken("Another");
    CHECK(taken("Set it aside") == "first.jsonl");
    start.model.interrupted.pop_back();  // it is gone: from the beginning again
    CHECK(taken("Continue it") == "third.jsonl");
    (void)taken("Another");
    (void)taken("Another");
    CHECK(taken("Continue it") == "third.jsonl");
}

TEST_CASE("start: every notice has a line of its own, and none lies on a button", "[view]") {
    Start start;
    const auto quit_ends = [&] {
        start.run(kSettle);
        const Rect place = start.table.widgets.ui().place_of("Quit");
        return place.y + place.height;
    };
    start.model.notices = {"one"};
    const double with_one = quit_ends();
    start.model.notices = {"one", "two", "three"};
    CHECK(quit_ends() == Approx(with_one - 2.0 * 18.0).margin(1.0));
}

TEST_CASE("start: a double click on a level starts it, a single one does not", "[view]") {
    Start start;
    start.table.click("##level small-donor");
    CHECK(start.run().what == StartChoice::What::none);
    start.table.click("##level small-donor");
    start.table.click("##level small-donor");
    CHECK(start.run().what == StartChoice::What::play);
}

TEST_CASE("start: by keys alone a level is chosen, a setting changed, and the level started", "[view]") {
    Start start;
    start.table.key(sf::Keyboard::Down);
    start.run();
    for (int i = 0; i < 2; ++i) {  // over to the settings
        start.table.key(sf::Keyboard::Right);
        start.run();
    }
    // Down the column to the first check box, wherever in it the focus came to stand.
    StartSettings before = start.run().settings;
    StartChoice choice;
    for (int i = 0; i < 8 && choice.settings.left_handed == before.left_handed; ++i) {
        start.table.key(sf::Keyboard::Down);
        start.run();
        if (start.table.widgets.ui().focused() != "Left-handed") continue;
        start.table.key(sf::Keyboard::Space);
        choice = start.run();
    }
    CHECK(choice.settings.left_handed);
    for (int i = 0; i < 3 && !start.table.widgets.ui().focused().starts_with("##level"); ++i) {
        start.table.key(sf::Keyboard::Left);
        start.run();
    }
    start.table.key(sf::Keyboard::Enter);
    for (int i = 0; i < 3 && choice.what == StartChoice::What::none; ++i) choice = start.run();
    CHECK(choice.what == StartChoice::What::play);
    CHECK(choice.settings.left_handed);
}

TEST_CASE("start: a broken level is listed, and every fault of it is said", "[view]") {
    Start start;
    start.table.click("##level night-shift.json");
    start.run();
    const Ui& ui = start.table.widgets.ui();
    CHECK(ui.place_of("line 12: \"bed_diameter_mm\" is 7,75; a number was expected").height > 0.0);
    CHECK(ui.place_of("line 31: unknown key \"aid\"; did you mean \"aids\"?").height > 0.0);
    CHECK(ui.place_of("Start this level").height == 0.0);
}

TEST_CASE("widgets: what stands at 1280 x 800 stands at 4K, three times as large at most", "[view]") {
    Start small, large(3840, 2160);
    const Rect a = small.table.widgets.ui().place_of("Quit"), b = large.table.widgets.ui().place_of("Quit");
    constexpr double kScale = 2160.0 / 800.0;  // the lesser of 3840/1280 and 2160/800
    CHECK(b.width == Approx(kScale * a.width).epsilon(0.01));
    CHECK(b.height == Approx(kScale * a.height).epsilon(0.01));
    large.table.click("Quit");
    CHECK(large.run().what == StartChoice::What::quit);
}

TEST_CASE("debrief: its pages turn by mouse, a row chooses its bite, the twin stays a choice", "[view]") {
    Table table;
    DebriefScreen screen;
    const Snapshot& shot = scored("second_cardinal_off");
    const auto run = [&](int frames = kReply) {
        return table.frames(
            frames, [&](Ui& ui) { return screen.draw(ui, shot, "Kept in somewhere"); },
            [](DebriefChoice choice) { return choice != DebriefChoice::none; });
    };
    run();
    table.click("Ideal twin in its place");
    run();
    table.click("Bites");
    run();
    table.click("##bite 4");
    run();
    CHECK(table.widgets.ui().place_of("Ideal twin in its place").width == 0.0);
    for (const char* page : {"Sections", "Marks", "Result"}) {
        table.click(page);
        run();
    }
    CHECK(table.widgets.ui().place_of("Ideal twin in its place").width > 0.0);
    table.click("Once more");
    CHECK(run() == DebriefChoice::again);
}

TEST_CASE("debrief: bites of a running thread have their rows behind the single ones", "[view][runs]") {
    Table table;
    DebriefScreen screen;
    for (const std::size_t single : {std::size_t{8}, std::size_t{0}}) {
        const Snapshot shot = with_run("even_sixteen", single);
        for (const auto page :
             {DebriefScreen::Page::result, DebriefScreen::Page::sections, DebriefScreen::Page::bites}) {
            screen.show(page);
            table.frames(
                4, [&](Ui& ui) { return screen.draw(ui, shot, ""); }, [](DebriefChoice) { return false; });
        }
        CHECK(table.widgets.ui().place_of("##bite 16").width > 0.0);
    }
}

TEST_CASE("replay: a click on the time line seeks there and holds", "[view]") {
    Table table;
    ReplayUi replay{true, true, 0.0, 100.0};
    const auto run = [&](int frames) {
        table.frames(
            frames,
            [&](Ui& ui) {
                DebriefScreen::draw_replay(ui, replay, {});
                return 0;
            },
            kNever);
    };
    run(kSettle);
    table.click("##time");
    run(kReply);
    CHECK(replay.t_s == Approx(50.0).margin(2.0));
    CHECK_FALSE(replay.playing);
    table.click("+5 s");
    run(kReply);
    CHECK(replay.t_s == Approx(55.0).margin(2.0));
    table.click("Back to the debrief");
    run(kReply);
    CHECK_FALSE(replay.open);
}

TEST_CASE("sound: without a device it is silent and throws nothing", "[view]") {
    Sound sound;
    for (const Cue cue : {Cue::tick, Cue::lock, Cue::warn}) CHECK_NOTHROW(sound.play(cue));
}

}  // namespace
}  // namespace graftwright
