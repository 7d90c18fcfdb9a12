// A knot while it is being tied: the tension that follows the hand and what the throws keep of it.
//
// Each throw winds `turns` one way round. The first throw holds by friction only and gives back what it
// cannot hold; throws laid the same way as the one before slide (a granny: used to set the tension);
// a throw laid the other way locks, keeping what the loop has at that moment but a small set-back.
// Too much tension cuts the tissue (the bite shortens and at last tears out) or breaks the thread.
// Sources and choices are named beside each constant in the .cpp. mN, mm; tick of 1/240 s.
#pragma once

#include <cmath>
#include <string>
#include <vector>

namespace graftwright {

struct Throw {
    int turns = 1;  // 1 … 4
    bool clockwise = true;
};

enum class KnotKind { none, one_throw, sliding, locked };  // locked: some neighbouring throws are reversed

struct KnotLimits {
    double break_mN = 190.0;  // straight pull (scenario's thread)
    double cut_mN = 120.0;    // tissue begins to give; see cut_limit_mN
    double bite_mm = 1.1;     // the shorter side's bite: cut that far, the thread has torn out
};

// Capstan: tension that a wrap of this angle (rad) holds for each unit on its slack side (T9-01).
[[nodiscard]] inline double capstan_ratio(double friction, double angle) { return std::exp(friction * angle); }

// Tension at which a bite begins to cut its tissue: tearing strength × the tissue in the loop's grip.
[[nodiscard]] double cut_limit_mN(double bite_mm, double depth_fraction, double modulus_kPa);

class KnotInHand {
  public:
    explicit KnotInHand(const KnotLimits& limits);

    void lay(Throw next);       // at most 8
    void pull(double hand_mN);  // the tension at which the hand now holds the ends; 0 = let go
    void step();

    [[nodiscard]] double loop_mN() const;  // in the loop now
    [[nodiscard]] double hand_mN() const;
    [[nodiscard]] KnotKind kind() const;
    [[nodiscard]] bool locked() const { return kind() == KnotKind::locked; }
    [[nodiscard]] bool square() const;  // every throw reverses the one before
    [[nodiscard]] bool broken() const;
    [[nodiscard]] double cut_mm() const;   // how far the thread has cut toward the wound
    [[nodiscard]] bool torn_out() const;   // cut through the whole bite: nothing holds any more
    [[nodiscard]] double held_mN() const;  // what the throws laid so far hold by friction when let go
    [[nodiscard]] const std::vector<Throw>& throws() const;
    [[nodiscard]] std::string throws_text() const;  // "3-1-1"

  private:
    void strain_thread();
    void cut_tissue();

    KnotLimits limits_;
    std::vector<Throw> throws_;
    double loop_ = 0.0, hand_ = 0.0, wish_ = 0.0, cut_ = 0.0;
    bool broken_ = false;
};

}  // namespace graftwright
