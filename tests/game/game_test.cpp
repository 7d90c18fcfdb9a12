// Whole levels played through the devices: what careful and careless hands get, and that they get it again.
#include "game/game.h"

#include <system_error>
#include <thread>

#include <catch2/catch.hpp>

#include "files/writer.h"
#include "game_scenes.h"

namespace graftwright {
namespace {

using scenes::Device;
using scenes::MeantBite;
using scenes::new_game;
using scenes::play_bites;
using scenes::RobotHand;

const Scorecard& finished(Game& game) {
    RobotHand(game, Device::keyboard).finish();
    REQUIRE(game.session().debrief());
    return game.session().debrief()->card;
}

TEST_CASE("game: one bite by mouse, by keys, or without a wheel, is what the hand meant", "[game][quick]") {
    const Device device = GENERATE(Device::keyboard, Device::mouse, Device::mouse_and_wheel);
    Game game = new_game();
    RobotHand(game, device).bite({});
    const Attempt attempt = game.attempt();
    REQUIRE(attempt.bites.size() == 1);
    const Bite& bite = attempt.bites.front();
    // A degree, a notch of the needle and a step of the tip are what a hand can set.
    CHECK(bite.host_deg == Approx(90.0).margin(0.2));
    CHECK(bite.graft_depth_um / 550.0 == Approx(0.92).margin(0.03));
    CHECK(bite.host_depth_um / 620.0 == Approx(0.92).margin(0.03));
    CHECK(bite.graft_bite_mm == Approx(1.1).margin(0.03));
    CHECK(bite.host_bite_mm == Approx(1.1).margin(0.03));
    CHECK(bite.tension_mN == Approx(15.0).margin(0.2));
    CHECK(bite.throws == "3-1-1");
}

TEST_CASE("game: a careful hand passes the level, and score reads its attempt to the same numbers", "[game][slow]") {
    Game game = new_game();
    play_bites(game, 16);
    const Scorecard& card = finished(game);
    REQUIRE(card.converged());
    CHECK(card.score->passed);
    CHECK(card.score->total > 90.0);
    CHECK(game.snapshot().trauma_uJ < 1.0);

    const std::string text = write_attempt(game.attempt());
    const auto read = read_attempt_for(scenes::sixteen(16), text, "attempt.json");
    REQUIRE(read.ok());
    CHECK(read.value().bites == game.attempt().bites);
    CHECK(inputs_of(read.value()) == game.inputs());
    const Scorecard again = score_attempt(*scenes::shared_model(), read.value());
    CHECK(again.attempt.keratometry->cylinder_D == card.attempt.keratometry->cylinder_D);
    CHECK(again.attempt.wound.leak_pressure_mmHg == card.attempt.wound.leak_pressure_mmHg);
    CHECK(again.score->total == card.score->total);
}

TEST_CASE("game: a second cardinal into an unsteadied donor costs several dioptres", "[game][slow]") {
    Game game = new_game();
    play_bites(game, 4, {}, [](std::size_t i, MeantBite& bite) {
        if (i != 1) return;
        bite.hold = false;
        bite.eversion_deg = 0.0;
        bite.skew_deg = 10.0;
        bite.push_mm = 0.5;
    });
    const Attempt attempt = game.attempt();
    REQUIRE(attempt.bites.size() == 4);
    // The donor gave way: the path crosses donor and host at different angles.
    const Bite& second = attempt.bites[1];
    CHECK(std::abs(second.host_deg - second.graft_deg) > 3.0);
    const Scorecard& card = finished(game);
    REQUIRE(card.converged());
    CHECK(card.attempt.keratometry->cylinder_D > 3.0);

    Game steady = new_game();
    play_bites(steady, 4);
    CHECK(finished(steady).attempt.keratometry->cylinder_D < 1.0);
}

double mean_gape_um(const ClosureMeasures& measures) {
    double sum = 0.0;
    for (const SealPlace& place : measures.profile) sum += place.posterior_gape_um;
    return sum / static_cast<double>(measures.profile.size());
}

TEST_CASE("game: a shallow driver leaves the back of the wound open and a weaker seal", "[game][slow]") {
    Game shallow = new_game(), deep = new_game();
    MeantBite half;
    half.depth_fraction = 0.5;
    play_bites(shallow, 8, half);
    play_bites(deep, 8);
    const Scorecard &bad = finished(shallow), &good = finished(deep);
    CHECK(mean_gape_um(bad.attempt) > 1.5 * mean_gape_um(good.attempt));
    CHECK(bad.attempt.wound.leak_pressure_mmHg < good.attempt.wound.leak_pressure_mmHg - 2.0);
    CHECK(bad.bites.front().depth_fraction_graft == Approx(0.5).margin(0.04));
}

TEST_CASE("game: an over-tightener flattens the cornea, and beyond the limit tears the tissue", "[game][slow]") {
    Game tight = new_game(), even = new_game();
    MeantBite pulled;
    pulled.tension_mN = 45.0;
    play_bites(tight, 8, pulled);
    play_bites(even, 8);
    const Scorecard &bad = finished(tight), &good = finished(even);
    CHECK(bad.attempt.keratometry->mean_D < good.attempt.keratometry->mean_D - 2.0);
    CHECK(bad.attempt.wound.leak_pressure_mmHg > good.attempt.wound.leak_pressure_mmHg);

    Game torn = new_game();
    MeantBite weak;
    weak.depth_fraction = 0.3;
    weak.donor_bite_mm = 0.4;
    weak.tension_mN = 95.0;
    RobotHand(torn, Device::keyboard).bite(weak);
    CHECK(torn.attempt().bites.empty());
    const auto what = [&](const char* name) {
        const std::vector<Event> events = torn.attempt().events;
        return std::any_of(events.begin(), events.end(), [&](const Event& event) { return event.what == name; });
    };
    CHECK((what("tore_out") || what("thread_broke")));
}

// A machine on which every answer is late by another while.
class SlowService final : public WoundService {
  public:
    explicit SlowService(std::unique_ptr<WoundService> real) : real_(std::move(real)) {}
    void ask(const WoundQuestion& question) override {
        real_->ask(question);
        late_ = 7 + (late_ * 13 + 5) % 29;
        waited_ = 0;
    }
    void ask_debrief(const Attempt& attempt) override { real_->ask_debrief(attempt); }
    [[nodiscard]] bool ready() const override { return ++waited_ > late_; }
    [[nodiscard]] std::shared_ptr<const LiveWound> take() override { return real_->take(); }
    [[nodiscard]] std::shared_ptr<const Debrief> take_debrief() override { return real_->take_debrief(); }

  private:
    std::unique_ptr<WoundService> real_;
    int late_ = 0;
    mutable int waited_ = 0;
};

TEST_CASE("game: the same inputs give the same attempt to the bit, on a thread, in line, or on a slow machine",
          "[game][slow]") {
    Game first = new_game();
    play_bites(first, 4, {}, [](std::size_t i, MeantBite& bite) { bite.hold = i != 2; }, Device::mouse_and_wheel);
    const std::vector<Input> inputs = first.inputs();
    const std::string expected = write_attempt(first.attempt());
    const auto model = scenes::shared_model();

    Game threaded = new_game("", make_worker_service(model));
    play_inputs(threaded, inputs, first.session().tick() - inputs.back().tick);
    CHECK(write_attempt(threaded.attempt()) == expected);

    Game without_threads = new_game("", make_worker_service(model, [](const std::function<void()>&) -> std::thread {
        throw std::system_error(std::make_error_code(std::errc::resource_unavailable_try_again));
    }));
    play_inputs(without_threads, inputs, first.session().tick() - inputs.back().tick);
    CHECK(write_attempt(without_threads.attempt()) == expected);

    Game slow = new_game("", std::make_unique<SlowService>(make_inline_service(model)));
    Script script(inputs);
    while (slow.session().tick() < first.session().tick()) {
        if (!slow.can_step()) continue;  // a frame without a tick
        slow.step(script.due(slow.session().tick() + 1));
    }
    CHECK(write_attempt(slow.attempt()) == expected);
    CHECK(inputs_of(first.attempt()) == inputs);
}

TEST_CASE("game: a bite can be cut out and redone, or undone where the level allows", "[game][quick]") {
    Game game = new_game();
    RobotHand hand(game, Device::keyboard);
    play_bites(game, 4);
    hand.ask(Command::cut_out);
    REQUIRE(game.attempt().bites.size() == 4);
    CHECK(game.attempt().bites.back().removed);
    CHECK(game.attempt().bites.back().removed_after == 4);
    MeantBite again;
    again.at_deg = 180.0;
    hand.bite(again);
    REQUIRE(game.attempt().bites.size() == 5);
    hand.ask(Command::undo);
    CHECK(game.attempt().bites.size() == 4);
    hand.ask(Command::undo);
    CHECK_FALSE(game.attempt().bites.back().removed);
    const auto read = read_attempt_for(scenes::sixteen(16), write_attempt(game.attempt()), "attempt.json");
    CHECK(read.ok());
}

TEST_CASE("game: a needle driven through the back is in the chamber until it is backed out", "[game][quick]") {
    Game game = new_game();
    RobotHand hand(game, Device::keyboard);
    hand.ask(Command::forceps);
    hand.ask(Command::primary);
    hand.ask(Command::down, 45);  // far too steep
    hand.ask(Command::primary);
    hand.ask(Command::right, 40);
    hand.wait(200);
    REQUIRE(game.snapshot().section);
    CHECK(game.snapshot().section->tip_in_chamber);
    CHECK(game.snapshot().warning);
    hand.ask(Command::primary);
    CHECK(game.snapshot().stage == Stage::drive_donor);
    hand.ask(Command::back);
    hand.wait(400);
    CHECK(game.snapshot().stage == Stage::aim);
    CHECK(game.snapshot().trauma_uJ > 0.0);  // the tissue remembers
}

}  // namespace
}  // namespace graftwright
