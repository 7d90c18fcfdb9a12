// Draws a real game at every stage into pictures: graftwright_gallery FOLDER WIDTH HEIGHT (needs a display).
#include <cstdio>
#include <cstdlib>
#include <string>

#include <SFML/Graphics.hpp>

#include "../scenes/robot_hand.h"
#include "files/reader.h"
#include "view/field/game_view.h"

namespace {

using namespace graftwright;
using scenes::Device;
using scenes::MeantBite;
using scenes::RobotHand;

class Gallery {
  public:
    Gallery(std::string folder, unsigned width, unsigned height) : folder_(std::move(folder)) {
        if (!target_.create(width, height)) std::exit(3);
    }
    void keep(const Snapshot& snapshot, const std::string& name) {
        for (int frame = 0; frame < 12; ++frame) view_.draw(target_, snapshot);  // until it is sharp
        target_.display();
        sf::Image picture = target_.getTexture().copyToImage();
        for (unsigned y = 0; y < picture.getSize().y; ++y)
            for (unsigned x = 0; x < picture.getSize().x; ++x) {
                sf::Color colour = picture.getPixel(x, y);
                colour.a = 255;
                picture.setPixel(x, y, colour);
            }
        const std::string path = folder_ + "/" + name + ".png";
        if (!picture.saveToFile(path)) std::exit(3);
        std::printf("%s\n", path.c_str());
    }
    [[nodiscard]] std::string note() const { return view_.note(); }

  private:
    std::string folder_;
    sf::RenderTexture target_;
    GameView view_;
};

// What a careful robot does not get into.
void keep_troubles(Gallery& gallery, Snapshot shot) {
    shot.section.reset();
    shot.stage = Stage::aim;
    shot.viscoelastic = 0.06;
    shot.iris_in_wound = true;
    shot.iris_caught = 1;
    shot.endothelial_touches = 2;
    shot.bites[3].loose = true;
    shot.bites[3].tension_mN = 0.0;
    shot.bites[9].bite.removed = true;
    shot.selected = 3;
    shot.notice = "The chamber is shallow: the needle can take iris.";
    shot.warning = true;
    gallery.keep(shot, "17_flat_chamber");
    shot.layout.left_handed = true;
    shot.buttons.clear();
    gallery.keep(shot, "18_left_handed");
}

std::shared_ptr<const ScenarioModel> level(const std::string& id) {
    const std::string path = std::string(GRAFTWRIGHT_SOURCE_DIR) + "/levels/" + id + ".json";
    return std::make_shared<const ScenarioModel>(read_scenario(read_text_file(path).value(), path).value());
}

// Questions as they are answered, and the first lesson.
void keep_questions(Gallery& gallery) {
    for (const auto& [id, name] : {std::pair{"rings-too-tight", "20_rings"}, std::pair{"find-the-leak", "21_leak"},
                                   std::pair{"selective-removal", "22_removal"}}) {
        const auto model = level(id);
        Game game(model, make_inline_service(model), GameOptions{});
        RobotHand hand(game, Device::keyboard);
        hand.wait(30);
        gallery.keep(game.snapshot(), std::string(name) + "_aim");
        hand.ask(Command::finish);
        hand.ask(Command::left, 3);
        hand.ask(Command::cut_out);
        hand.wait(60);
        gallery.keep(game.snapshot(), std::string(name) + "_1");
        hand.ask(Command::primary);
        if (game.session().stage() != Stage::answer) continue;
        hand.wait(60);
        gallery.keep(game.snapshot(), std::string(name) + "_2");
    }
    const auto model = level("first-bite");
    Game game(model, make_inline_service(model), GameOptions{});
    RobotHand hand(game, Device::keyboard);
    hand.wait(30);
    gallery.keep(game.snapshot(), "23_lesson_hold");
    hand.seen = [&](const std::string& name) {
        if (name == "05_re_grasped" || name == "08_locked") gallery.keep(game.snapshot(), "23_lesson_" + name);
    };
    hand.bite({});
    hand.ask(Command::leak_check);
    gallery.keep(game.snapshot(), "23_lesson_leak");
}

// A running thread beside four temporary cardinals: half laid, drawn together, tied.
void keep_runs(Gallery& gallery) {
    const std::string path = std::string(GRAFTWRIGHT_SOURCE_DIR) + "/levels/sixteen.json";
    Scenario scenario = read_scenario(read_text_file(path).value(), path).value();
    scenario.task.pattern = Pattern::running;
    for (const double deg : tying_order_deg(4)) {
        Bite bite;
        bite.graft_deg = bite.host_deg = deg;
        scenario.start.bites.push_back(bite);
    }
    const auto model = std::make_shared<const ScenarioModel>(scenario);
    Game game(model, make_inline_service(model), GameOptions{});
    RobotHand hand(game, Device::keyboard);
    scenes::MeantRun run;
    for (int i = 0; i < 16; ++i) {
        MeantBite bite;
        bite.at_deg = 101.25 - 22.5 * i;
        run.bites.push_back(bite);
    }
    hand.switch_running(true);
    for (std::size_t i = 0; i < 16; ++i) {
        hand.bite(run.bites[i]);
        if (i != 7) continue;
        hand.wait(30);
        gallery.keep(game.snapshot(), "24_run_half_laid");
        hand.ask(Command::primary);
        gallery.keep(game.snapshot(), "24_run_next_bite");
        hand.ask(Command::back);
    }
    hand.seen = [&](const std::string& name) { gallery.keep(game.snapshot(), "25_run_" + name); };
    hand.tie_run(run);
    hand.seen = nullptr;
    hand.wait(60);
    gallery.keep(game.snapshot(), "26_run_tied");
    for (const std::size_t bite : {0U, 1U, 2U, 3U}) hand.cut_out(bite);
    hand.wait(60);
    gallery.keep(game.snapshot(), "27_run_alone");
}

void play(Gallery& gallery) {
    const std::string path = std::string(GRAFTWRIGHT_SOURCE_DIR) + "/levels/sixteen.json";
    const auto model = std::make_shared<const ScenarioModel>(read_scenario(read_text_file(path).value(), path).value());
    Game game(model, make_inline_service(model), GameOptions{});
    RobotHand hand(game, Device::keyboard);
    hand.wait(30);
    gallery.keep(game.snapshot(), "01_aim");
    hand.seen = [&](const std::string& name) {
        if (game.session().attempt().bites.empty()) gallery.keep(game.snapshot(), name);
    };
    hand.bite({});
    const std::vector<double> order = tying_order_deg(16);
    const auto bite = [&](std::size_t i) {
        MeantBite meant;
        meant.at_deg = order[i];
        if (i == 6) meant.tension_mN = 40.0;
        hand.bite(meant);
    };
    bite(1);
    gallery.keep(game.snapshot(), "10_two_bites");
    bite(2);
    bite(3);
    hand.wait(30);
    gallery.keep(game.snapshot(), "11_four_cardinals");
    hand.ask(Command::leak_check);
    for (const Command step : {Command::wash, Command::sweep, Command::dry, Command::stain}) hand.ask(step);
    hand.ask(Command::raise_pressure, 14);
    hand.wait(60);
    gallery.keep(game.snapshot(), "12_leak_check");
    hand.ask(Command::back);
    for (std::size_t i = 4; i < 16; ++i) bite(i);
    hand.wait(60);
    gallery.keep(game.snapshot(), "13_sixteen");
    hand.ask(Command::ring_check);
    hand.wait(60);
    gallery.keep(game.snapshot(), "14_ring_check");
    hand.ask(Command::back);
    hand.ask(Command::flip_view);
    hand.wait(30);
    gallery.keep(game.snapshot(), "15_examiner");
    hand.ask(Command::flip_view);
    hand.ask(Command::primary);
    hand.ask(Command::down, 45);
    hand.ask(Command::primary);
    hand.ask(Command::right, 45);
    hand.wait(200);
    gallery.keep(game.snapshot(), "16_through_the_back");
    keep_troubles(gallery, game.snapshot());
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 4 || std::getenv("DISPLAY") == nullptr) {  // NOLINT(concurrency-mt-unsafe): one thread
        std::fprintf(stderr, "usage, with a display: graftwright_gallery FOLDER WIDTH HEIGHT\n");
        return 2;
    }
    Gallery gallery(argv[1], static_cast<unsigned>(std::atoi(argv[2])), static_cast<unsigned>(std::atoi(argv[3])));
    play(gallery);
    keep_questions(gallery);
    keep_runs(gallery);
    if (!gallery.note().empty()) std::printf("note: %s\n", gallery.note().c_str());
    return 0;
}
