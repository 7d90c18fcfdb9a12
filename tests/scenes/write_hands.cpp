// Writes the shipped scripted hands: each is played by the robot hand and kept as what it did.
//   graftwright_write_hands levels/sixteen.json levels/hands
#include <cstdio>
#include <fstream>
#include <functional>
#include <string>

#include "files/reader.h"
#include "files/writer.h"
#include "game/input.h"
#include "robot_hand.h"

namespace {

using namespace graftwright;
using scenes::Device;
using scenes::MeantBite;

struct Shipped {
    const char* file;
    const char* trainee;
    int bites;
    Device device;
    bool finishes;
    std::function<void(std::size_t, MeantBite&)> change;
};

const std::vector<Shipped>& shipped() {
    static const std::vector<Shipped> hands{
        {"careful", "a careful hand", 16, Device::keyboard, true, [](std::size_t, MeantBite&) {}},
        {"one_bite", "one bite by mouse alone", 1, Device::mouse, false, [](std::size_t, MeantBite&) {}},
        {"unsteady_second_cardinal", "donor not steadied at the second cardinal", 16, Device::keyboard, true,
         [](std::size_t i, MeantBite& bite) {
             if (i != 1) return;
             bite.hold = false;
             bite.eversion_deg = 0.0;
             bite.skew_deg = 10.0;
             bite.push_mm = 0.5;
         }},
        {"shallow", "drives to half the depth", 16, Device::mouse_and_wheel, true,
         [](std::size_t, MeantBite& bite) { bite.depth_fraction = 0.5; }},
        {"over_tight", "pulls every thread too tight", 16, Device::keyboard, true,
         [](std::size_t, MeantBite& bite) { bite.tension_mN = 45.0; }},
    };
    return hands;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 3) {
        std::fprintf(stderr, "usage: graftwright_write_hands SCENARIO.json FOLDER\n");
        return 2;
    }
    const auto text = read_text_file(argv[1]);
    const auto scenario = read_scenario(text.value(), argv[1]);
    const auto model = std::make_shared<const ScenarioModel>(scenario.value());
    for (const Shipped& one : shipped()) {
        GameOptions options;
        options.trainee = one.trainee;
        options.started = "2026-01-01T10:00:00Z";
        Game game(model, make_inline_service(model), options);
        scenes::RobotHand hand(game, one.device);
        const std::vector<double> order = tying_order_deg(one.bites);
        for (std::size_t i = 0; i < order.size(); ++i) {
            MeantBite bite;
            bite.at_deg = order[i];
            one.change(i, bite);
            hand.bite(bite);
        }
        if (one.finishes) hand.finish();
        HandRecord script;
        script.scenario = scenario.value().id;
        script.trainee = one.trainee;
        script.started = options.started;
        script.events = hand_events(game.inputs());
        const std::string path = std::string(argv[2]) + "/" + one.file + ".json";
        std::ofstream(path) << write_hand(script);
        std::printf("%s: %zu bites, %zu inputs\n", path.c_str(), game.attempt().bites.size(), game.inputs().size());
    }
    return 0;
}
