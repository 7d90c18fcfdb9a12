// A hand that looks: plays a game through its devices alone, as a person would, and is fully repeatable.
//
// It sees what the snapshot shows and answers with pointer, wheel and keys; it never touches the session.
// What it did is in Game::inputs() and plays again to the bit. For tests, benchmarks and the shipped hands.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/random.h"
#include "game/game.h"
#include "hand/tying_order.h"

namespace graftwright::scenes {

enum class Device { keyboard, mouse, mouse_and_wheel };  // mouse: no wheel, as a trackpad may be

// One bite as the hand means it.
struct MeantBite {
    double at_deg = 90.0;   // where it aims across the host's edge, field
    double skew_deg = 0.0;  // aim off the radius
    double donor_bite_mm = 1.1, host_bite_mm = 1.1;
    double depth_fraction = 0.92;
    std::optional<double> host_depth_fraction{};  // empty: as in the donor
    double tension_mN = 15.0;  // to be kept by the lock
    bool hold = true;          // steadies the donor with the forceps
    double eversion_deg = 20.0;
    double push_mm = 0.0;  // pushed outward in the donor, on top of the turn
};

// A running thread as the hand means it.
struct MeantRun {
    std::vector<MeantBite> bites;  // in lay order; of each, tension_mN means nothing
    double tension_mN = 12.0;      // to be kept by the lock
    // Its slack is worked round with the ends at this tension, which then is drawn or eased to the knot's.
    // Empty: at what the knot is drawn to; 0: not at all.
    std::optional<double> worked_mN{};
    bool bury_in_host = false;
};

// What a person's device adds to what was meant: each pointer position strays by up to `jitter_px` both ways,
// each run of equal steps (wheel, keys, buttons) by up to `notches`, and everything acts `delay_ticks` late.
struct InputNoise {
    double jitter_px = 2.0;
    int notches = 1;
    int delay_ticks = 19;  // 80 ms
    std::uint64_t seed = 1;
};

class RobotHand {
  public:
    RobotHand(Game& game, Device device) : game_(&game), device_(device) {}
    RobotHand(Game& game, Device device, const InputNoise& noise)
        : game_(&game), device_(device), noise_(noise), random_(noise.seed, 0) {}

    void bite(const MeantBite& meant);
    // Lays every bite and ties. For hands that look after each bite: switch_running, then bite() for each of its
    // bites (where the latch is on, it leaves with the thread slack), then tie_run.
    void run(const MeantRun& meant);
    void switch_running(bool on);
    void tie_run(const MeantRun& meant);
    // Selects a bite by its number in the snapshot and cuts it out (of a tied run: all of it).
    void cut_out(std::size_t bite);
    // Leaves with the scorecard worked out.
    void finish();
    void ask(Command command, int times = 1);
    void wait(int ticks);
    // Called at each step of a bite with its name, for pictures; may be empty.
    std::function<void(const std::string& step)> seen;

  private:
    void show(const std::string& step) const {
        if (seen) seen(step);
    }
    void tick(const std::vector<Input>& inputs);
    void click(Point wanted, int button);
    void aim(const MeantBite& meant);
    void hold(const MeantBite& meant);
    void set_pitch(double pitch_deg);
    void set_tip_depth(double depth_mm);
    void turn(double deg);
    void fine(bool on);
    void drive(double turn_deg, double push_mm);
    void pull_through(Stage driving);
    // Steps of one kind, as many as meant give or take the noise.
    void steps(Command command, double count);
    [[nodiscard]] int strayed(double count);
    [[nodiscard]] Point strayed(Point canvas);
    void late();
    void draw_to(double tension_mN);
    void tie(double tension_mN, double worked_mN, Command bury);

    Game* game_;
    Device device_;
    std::optional<InputNoise> noise_;
    RandomStream random_{1, 0};
};

}  // namespace graftwright::scenes
