// What is drawn, looked at pixel by pixel. Runs under a display of its own (tests/view/CMakeLists.txt).
#include <cmath>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <unistd.h>

#include <SFML/Graphics.hpp>
#include <catch2/catch.hpp>

#include "../game/game_scenes.h"
#include "../scenes/temporary_folder.h"
#include "pictures.h"
#include "view/field/game_view.h"
#include "view/kit/canvas.h"
#include "view/window/key_names.h"
#include "view/window/sound.h"

namespace graftwright {
namespace {

using scenes::Device;
using scenes::RobotHand;

TEST_CASE("canvas: window and canvas map onto each other, letterboxed and whole", "[view]") {
    for (const Point window : {Point{1280, 800}, Point{2560, 1440}, Point{1024, 1000}, Point{3840, 2160}}) {
        const CanvasFit fit = CanvasFit::of(window.x, window.y);
        const Point there = fit.to_canvas(fit.to_window({321.5, 77.25}));
        CHECK(there.x == Approx(321.5));
        CHECK(there.y == Approx(77.25));
        const Point corner = fit.to_window({kCanvasWidth, kCanvasHeight});
        CHECK(corner.x <= window.x + 1.0);
        CHECK(corner.y <= window.y + 1.0);
    }
}

TEST_CASE("view: the same snapshot gives the same pixels, and it is no blank", "[view]") {
    Game game = scenes::new_game();
    const sf::Image one = picture_of(game.snapshot()), other = picture_of(game.snapshot());
    CHECK(changed(one, other, {640, 400}, 1000) == 0);
    const sf::Color sclera = one.getPixel(60, 400), pupil = one.getPixel(365, 460);
    CHECK(sclera.r > pupil.r + 60);
}

TEST_CASE("view: donor marks turn with the donor and nothing outside it does", "[view]") {
    Game game = scenes::new_game();
    Snapshot shot = game.snapshot();
    const Point middle = shot.layout.field_to_canvas({0, 0});
    const sf::Image before = picture_of(shot);
    shot.donor.turn = 0.12;
    const sf::Image after = picture_of(shot);
    CHECK(changed(before, after, middle, 230) > 200);
    const Point sclera = shot.layout.field_to_canvas({-6.2, 0.0});
    CHECK(changed(before, after, sclera, 15) == 0);
}

TEST_CASE("view: the needle's tip is seen in the section where the snapshot has it", "[view]") {
    Game game = scenes::new_game();
    RobotHand hand(game, Device::keyboard);
    hand.ask(Command::primary);
    hand.ask(Command::down, 20);
    Snapshot shot = game.snapshot();
    REQUIRE(shot.section);
    const Point tip = shot.layout.section_to_canvas(shot.section->pose.at(shot.section->needle));
    const sf::Image with = picture_of(shot);
    shot.section->pose.centre.y += 1.0;  // the needle a millimetre up, out of the way
    const sf::Image without = picture_of(shot);
    CHECK(changed(with, without, tip, 12) > 40);
}

TEST_CASE("view: a stream is drawn at its own place of the wound", "[view]") {
    Game game = scenes::new_game();
    Snapshot shot = game.snapshot();
    shot.stage = Stage::leak_check;
    shot.leak = LeakView{};
    shot.leak->stained = true;
    const sf::Image dry = picture_of(shot);
    shot.leak->streams.push_back({40.0, 0.8});
    const sf::Image wet = picture_of(shot);
    const auto at = [&](double deg) {
        return shot.layout.field_to_canvas({4.4 * std::cos(rad_from_deg(deg)), 4.4 * std::sin(rad_from_deg(deg))});
    };
    CHECK(changed(dry, wet, at(40.0), 20) > 100);
    CHECK(changed(dry, wet, at(220.0), 20) == 0);
}

TEST_CASE("view: examiner's and surgeon's view are half a turn apart", "[view]") {
    Game game = scenes::new_game();
    RobotHand(game, Device::keyboard).bite({});
    Snapshot shot = game.snapshot();
    const sf::Image bare = [&] {
        Snapshot none = shot;
        none.bites.clear();
        none.selected.reset();
        return picture_of(none);
    }();
    const Point up = shot.layout.field_to_canvas(shot.bites[0].exit);
    CHECK(changed(bare, picture_of(shot), up, 10) > 10);
    CHECK(up.y > shot.layout.field().centre().y);  // 12 o'clock is below
    shot.layout.examiner_view = true;
    CHECK(shot.layout.field_to_canvas(shot.bites[0].exit).y < shot.layout.field().centre().y);
}

TEST_CASE("view: every stage can be drawn at every size, in either hand's layout", "[view]") {
    Game game = scenes::new_game();
    Snapshot shot = game.snapshot();
    for (int stage = 0; stage < static_cast<int>(Stage::debrief); ++stage)
        for (const bool left : {false, true}) {
            shot.stage = static_cast<Stage>(stage);
            shot.layout.left_handed = left;
            sf::RenderTexture target;
            REQUIRE(target.create(left ? 640 : 1920, left ? 480 : 1200));
            GameView view;
            view.draw(target, shot);
        }
}

TEST_CASE("keys: the window's keys have the names that bindings use", "[view]") {
    const auto name = [](sf::Keyboard::Key code, bool shift = false) {
        sf::Event::KeyEvent key{};
        key.code = code;
        key.shift = shift;
        return key_name(key);
    };
    CHECK(name(sf::Keyboard::Space) == "Space");
    CHECK(name(sf::Keyboard::A) == "A");
    CHECK(name(sf::Keyboard::F10) == "F10");
    CHECK(name(sf::Keyboard::Left, true) == "Shift+Left");
    CHECK(name(sf::Keyboard::LShift).empty());
    // Every shipped key can be typed.
    std::vector<std::string> typed;
    for (int code = 0; code < sf::Keyboard::KeyCount; ++code)
        for (const bool shift : {false, true}) typed.push_back(name(static_cast<sf::Keyboard::Key>(code), shift));
    const KeyBindings shipped;
    for (const KeyBinding& binding : shipped.all())
        CHECK(std::find(typed.begin(), typed.end(), binding.key) != typed.end());
}

TEST_CASE("sound: without a device it says that it has none, and the audio library complains of nothing", "[view]") {
    if (std::filesystem::exists("/dev/snd")) {
        WARN("there is a sound device here: not tested");
        return;
    }
    const test::TemporaryFolder folder;
    setenv("XDG_RUNTIME_DIR", folder.file("").c_str(), 1);  // no sound server either
    // What libraries say goes past every stream, straight to the descriptor.
    const int usual = dup(STDERR_FILENO), said = open(folder.file("said").c_str(), O_CREAT | O_WRONLY, 0600);
    REQUIRE(dup2(said, STDERR_FILENO) >= 0);
    bool available = true;
    {
        Sound sound;
        available = sound.available();
        sound.play(Cue::lock);
        sound.set_on(false);
        sound.play(Cue::warn);
    }
    dup2(usual, STDERR_FILENO);
    close(said);
    close(usual);
    CHECK_FALSE(available);
    CHECK(std::filesystem::file_size(folder.file("said")) == 0);
}

}  // namespace
}  // namespace graftwright
