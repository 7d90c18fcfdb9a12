// A hand that looks: plays a game through its devices alone, as a person would, and is fully repeatable.
//
// It sees what the snapshot shows and answers with pointer, wheel and keys; it never touches the session.
// What it did is in Game::inputs() and plays again to the bit. For tests, benchmarks and the shipped hands.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "game/game.h"

namespace graftwright::scenes {

enum class Device { keyboard, mouse, mouse_and_wheel };  // mouse: no wheel, as a trackpad may be

// One bite as the hand means it.
struct MeantBite {
    double at_deg = 90.0;        // where it aims across the host's edge, field
    double skew_deg = 0.0;       // aim off the radius
    double donor_bite_mm = 1.1, host_bite_mm = 1.1;
    double depth_fraction = 0.92;
    double tension_mN = 15.0;    // to be kept by the lock
    bool hold = true;            // steadies the donor with the forceps
    double eversion_deg = 20.0;
    double push_mm = 0.0;        // pushed outward in the donor, on top of the turn
};

class RobotHand {
  public:
    RobotHand(Game& game, Device device) : game_(&game), device_(device) {}

    void bite(const MeantBite& meant);
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
    void tick(const std::vector<DeviceEvent>& events);
    void click(Point wanted, int button);
    void aim(const MeantBite& meant);
    void hold(const MeantBite& meant);
    void set_pitch(double pitch_deg);
    void set_tip_depth(double depth_mm);
    void turn(double deg);
    void fine(bool on);
    void drive(double turn_deg, double push_mm);
    void tie(double tension_mN);

    Game* game_;
    Device device_;
};

// The usual order: cardinals at 12, 6, 3 and 9 o'clock, then the gaps halved.
[[nodiscard]] std::vector<double> usual_order_deg(int bites);

}  // namespace graftwright::scenes
