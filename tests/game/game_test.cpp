// Whole levels played through the devices: what careful and careless hands get.
#include "game/game.h"

#include <catch2/catch.hpp>

#include "base/units.h"
#include "files/reader.h"
#include "files/writer.h"
#include "../scenes/robot_hand.h"

namespace graftwright {
namespace {

using scenes::Device;
using scenes::MeantBite;
using scenes::RobotHand;

std::shared_ptr<const ScenarioModel> model_of(const std::string& id, int bites) {
    auto scenario = read_scenario(read_text_file(std::string(GRAFTWRIGHT_SOURCE_DIR) + "/levels/" + id + ".json").value(),
                                  id);
    Scenario taken = scenario.take();
    taken.task.bites = bites;
    return std::make_shared<const ScenarioModel>(taken);
}

Game game_of(const std::shared_ptr<const ScenarioModel>& model) {
    GameOptions options;
    options.started = "2026-01-01T10:00:00Z";
    return Game(model, make_inline_service(model), options);
}

TEST_CASE("game: one careful bite is what the hand meant", "[game][quick]") {
    const auto model = model_of("sixteen", 16);
    const Device device = GENERATE(Device::keyboard, Device::mouse, Device::mouse_and_wheel);
    Game game = game_of(model);
    RobotHand hand(game, device);
    hand.bite({});
    const Attempt& attempt = game.session().attempt();
    for (const Event& event : attempt.events) UNSCOPED_INFO(event.t_s << " " << event.what << " " << event.detail_json);
    UNSCOPED_INFO(game.snapshot().notice);
    REQUIRE(attempt.bites.size() == 1);
    const Bite& bite = attempt.bites.front();
    UNSCOPED_INFO(write_attempt(attempt).substr(0, 600));
    CHECK(bite.host_deg == Approx(90.0).margin(1.0));
    CHECK(bite.graft_depth_um / 550.0 == Approx(0.92).margin(0.03));
    CHECK(bite.host_depth_um / 620.0 == Approx(0.92).margin(0.03));
    CHECK(bite.graft_bite_mm == Approx(1.1).margin(0.06));
    CHECK(bite.host_bite_mm == Approx(1.1).margin(0.06));
    CHECK(bite.tension_mN == Approx(15.0).margin(0.5));
    CHECK(bite.throws == "3-1-1");
}

}  // namespace
}  // namespace graftwright
