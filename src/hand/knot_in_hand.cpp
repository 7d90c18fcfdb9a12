#include "hand/knot_in_hand.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "files/limits.h"
#include "hand/section_drive.h"

namespace graftwright {
namespace {

// How fast a hand takes up the tension it means to hold. Our choice: 15 mN within an eighth of a second.
constexpr double kTakeUp_mN_per_s = 120.0;
constexpr double kMostPull_mN = 1000.0;  // far beyond any thread this fine

// Friction inside a throw: T = T0 exp(µ·2π·turns) (T9-01). No measurement of wet nylon on itself was
// found; 0.15 lies in the band in use (T9-06). T0 is what the two ends, lying on wet tissue, keep.
// Our choice: three turns then hold about 17 mN, two 7 mN, one 3 mN.
constexpr double kThreadFriction = 0.15;
constexpr double kEndsDrag_mN = 1.0;
constexpr double kSlipTime_s = 0.2;  // a throw gives its surplus back with this time constant (our choice)

constexpr double kSetBack = 0.05;  // share of tension lost as the reversing throw beds down (our choice)

// Knotted strand against straight: at most 0.61 (T1-14, 3-0 nylon, inferred); a little less, as wet
// nylon has 80–90 % of its dry strength (T1-22).
constexpr double kKnotEfficiency = 0.55;

// Cutting: twice the limit cuts half a millimetre a second. Our choice.
constexpr double kCut_mm_per_s = 0.5;
// A locked loop slackens as its bite shortens, by the stiffness of a 3 mm loop (T1-16).
constexpr double kLoop_mN_per_mm = 327.0;

// Interlamellar tearing strength, 14.2 g/mm at the centre, 30 g/mm at 5 mm (T2-11, mean of nasal and
// temporal), read off at the wound's radius of about 4 mm.
constexpr double kTearing_mN_per_mm = (14.2 + (30.0 - 14.2) * 4.0 / 5.0) * 9.80665;

}  // namespace

double cut_limit_mN(double bite_mm, double depth_fraction, double modulus_kPa) {
    // Tissue in the grip: the bite's length, in the part of the wall's depth that the loop takes
    // (our choice), as strong against tearing as it is stiff (our choice: 1 MPa as published).
    const double gripped_mm = std::max(0.0, bite_mm) * std::clamp(depth_fraction, 0.0, 1.0);
    return kTearing_mN_per_mm * gripped_mm * std::max(0.0, modulus_kPa) / 1000.0;
}

KnotInHand::KnotInHand(const KnotLimits& limits) : limits_(limits) {}

void KnotInHand::lay(Throw next) {
    if (broken_ || throws_.size() >= kMostThrows) return;
    next.turns = std::clamp(next.turns, 1, 4);
    const bool was_locked = locked();
    throws_.push_back(next);
    if (!was_locked && locked()) loop_ *= 1.0 - kSetBack;
}

void KnotInHand::pull(double hand_mN) { wish_ = std::isfinite(hand_mN) ? std::clamp(hand_mN, 0.0, kMostPull_mN) : 0.0; }

double KnotInHand::held_mN() const {
    if (throws_.empty()) return 0.0;
    double turns = 0.0;
    for (const Throw& t : throws_) turns += t.turns;
    return kEndsDrag_mN * capstan_ratio(kThreadFriction, 2.0 * kPi * turns);
}

void KnotInHand::step() {
    if (broken_ || torn_out()) {
        hand_ = loop_ = 0.0;
        return;
    }
    // Fingers take up tension at their pace and let go at once.
    hand_ = wish_ > 0.0 ? std::min(wish_, hand_ + kTakeUp_mN_per_s * kTick) : 0.0;
    if (!locked()) {
        const double surplus = loop_ - held_mN();
        if (hand_ > 0.0)
            loop_ += std::clamp(hand_ - loop_, -kTakeUp_mN_per_s * kTick, kTakeUp_mN_per_s * kTick);
        else if (throws_.empty())
            loop_ = 0.0;
        else if (surplus > 0.0)
            loop_ -= surplus * std::min(1.0, kTick / kSlipTime_s);
    }
    strain_thread();
    cut_tissue();
}

void KnotInHand::strain_thread() {
    const double strength = limits_.break_mN * (throws_.empty() ? 1.0 : kKnotEfficiency);
    if (std::max(hand_, loop_) <= strength) return;
    broken_ = true;
    hand_ = loop_ = 0.0;
}

void KnotInHand::cut_tissue() {
    // The shorter the bite becomes, the less it holds.
    const double limit = limits_.cut_mN * std::max(0.0, 1.0 - cut_ / limits_.bite_mm);
    if (loop_ <= limit || broken_) return;
    const double excess = limit > 0.0 ? (loop_ - limit) / limit : 1.0;
    const double cut = std::min(kCut_mm_per_s * excess * kTick, limits_.bite_mm - cut_);
    cut_ += cut;
    if (locked() || hand_ == 0.0) loop_ = std::max(0.0, loop_ - kLoop_mN_per_mm * cut);
    if (torn_out()) hand_ = loop_ = 0.0;
}

double KnotInHand::loop_mN() const { return loop_; }
double KnotInHand::hand_mN() const { return hand_; }
bool KnotInHand::broken() const { return broken_; }
double KnotInHand::cut_mm() const { return cut_; }
bool KnotInHand::torn_out() const { return cut_ >= limits_.bite_mm; }
const std::vector<Throw>& KnotInHand::throws() const { return throws_; }

KnotKind KnotInHand::kind() const {
    if (throws_.empty()) return KnotKind::none;
    if (throws_.size() == 1) return KnotKind::one_throw;
    const auto reverses = [](const Throw& a, const Throw& b) { return a.clockwise != b.clockwise; };
    return std::adjacent_find(throws_.begin(), throws_.end(), reverses) == throws_.end() ? KnotKind::sliding
                                                                                         : KnotKind::locked;
}

bool KnotInHand::square() const {
    const auto same = [](const Throw& a, const Throw& b) { return a.clockwise == b.clockwise; };
    return throws_.size() >= 2 && std::adjacent_find(throws_.begin(), throws_.end(), same) == throws_.end();
}

std::string KnotInHand::throws_text() const {
    std::string text;
    for (const Throw& t : throws_) text += (text.empty() ? "" : "-") + std::to_string(t.turns);
    return text;
}

}  // namespace graftwright
