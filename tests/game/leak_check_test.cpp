// The leak check shows what opens, only that, and misleads where a real one would; the ring check only looks.
#include <catch2/catch.hpp>

#include "game_scenes.h"

namespace graftwright {
namespace {

using scenes::Device;
using scenes::RobotHand;

void raise_to(RobotHand& hand, int mmHg) {
    hand.ask(Command::raise_pressure, mmHg);
    hand.wait(40);
}

TEST_CASE("leak check: streams start where the wound does not seal, and only there", "[game][quick]") {
    Game game = scenes::new_game();
    scenes::play_bites(game, 4);
    RobotHand hand(game, Device::keyboard);
    hand.ask(Command::leak_check);
    for (const Command step : {Command::wash, Command::sweep, Command::dry, Command::stain}) hand.ask(step);
    hand.wait(40);
    CHECK(game.snapshot().leak->streams.empty());  // too soft an eye leaks nothing
    raise_to(hand, 12);
    const Snapshot shot = game.snapshot();
    REQUIRE(shot.leak);
    REQUIRE_FALSE(shot.leak->streams.empty());
    REQUIRE(shot.wound->seal_mmHg.size() == 256);
    for (const LeakView::Stream& stream : shot.leak->streams) {
        const auto j = static_cast<std::size_t>(std::lround(stream.deg / 360.0 * 256.0)) % 256;
        CHECK(shot.wound->seal_mmHg[j] < 12.0);
        // Between the cardinals, not at them.
        CHECK(std::abs(std::remainder(stream.deg - 45.0, 90.0)) < 38.0);
    }
    CHECK(shot.leak->streams.size() <= 4);
    hand.ask(Command::back);
    CHECK(game.snapshot().stage == Stage::aim);
}

TEST_CASE("leak check: viscoelastic left in place hides a leak", "[game][quick]") {
    Game game = scenes::new_game();
    scenes::play_bites(game, 4);
    RobotHand hand(game, Device::keyboard);
    hand.ask(Command::leak_check);
    hand.ask(Command::dry);
    hand.ask(Command::stain);
    raise_to(hand, 12);
    const std::size_t hidden = game.snapshot().leak->streams.size();
    hand.ask(Command::wash);
    hand.ask(Command::dry);
    hand.ask(Command::stain);
    hand.wait(40);
    CHECK(game.snapshot().leak->streams.size() > hidden);
}

TEST_CASE("ring check: the eye is looked at, and left as it is", "[game][quick]") {
    Game game = scenes::new_game();
    RobotHand hand(game, Device::keyboard);
    hand.ask(Command::ring_check);
    REQUIRE(game.snapshot().stage == Stage::ring_check);
    const std::string notice = game.snapshot().notice;
    for (const Command none : {Command::refill, Command::wash, Command::sweep, Command::dry, Command::stain,
                               Command::up, Command::raise_pressure, Command::down, Command::lower_pressure})
        hand.ask(none);
    CHECK(game.snapshot().stage == Stage::ring_check);
    CHECK(game.snapshot().notice == notice);
    hand.ask(Command::back);
    hand.ask(Command::leak_check);
    REQUIRE(game.snapshot().leak);
    CHECK_FALSE(game.snapshot().leak->saline);
}

}  // namespace
}  // namespace graftwright
