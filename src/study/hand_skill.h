// How good a simulated hand is: what it aims at and how far it strays, one number per skill.
//
// Each error is drawn anew for every bite, independent of the others, mean 0 (RandomStream::normal). Published
// widths are ranges over an attempt; the range over 16 normal draws is about 3.5 standard deviations, which is
// how they are turned into the numbers of the presets. "Our choice" where no source was found. What a hand
// does not do here: learn, tire, drift, or look again after a bite.
#pragma once

#include <string_view>

namespace graftwright {

struct HandSkill {
    std::string_view name;
    // Where the bite goes.
    double angle_sd_deg = 0.0;                   // off its slot, at the host's edge
    double skew_sd_mm = 0.0;                     // entry and exit off the radius, each
    double length_mm = 1.1, length_sd_mm = 0.0;  // aimed at, each side
    double depth = 0.92, depth_sd = 0.0;         // of the local thickness, each side
    bool levels_fronts = false;                  // where donor and rim differ: depths that bring the fronts level
    bool counters_ovality = false;               // an oval bed: tighter across its long axis
    // How the donor is held until it is anchored (four bites).
    double steadies = 1.0;                                  // how often it is steadied, 0 … 1
    double held_slip_sd_deg = 0.0, free_slip_sd_deg = 0.0;  // donor against host, steadied or not
    // Knots.
    double tension_mN = 15.0, tension_sd = 0.0;  // sd as a fraction of what is aimed at
    // A running thread: worked round at this, its knot then drawn to that. Belt friction in a bite (µ 0.1, a whole turn)
    // leaves a worked span about half, so a knot at half of it is as tight as the rest.
    double run_worked_mN = 26.0, run_knot_mN = 14.0;
    double works_round = 1.0;  // how often it works the slack round at all
    // Time and tissue.
    double bite_s = 60.0, bite_sd_s = 0.0;  // one bite from aim to cut ends
    double harms_a_bite = 0.0;              // chance that a bite drags tissue
    // Eyes.
    double notices = 1.0;       // chance to see that a bite of the start is wrong, 0 … 1
    bool guesses = false;       // answers questions at random
    double reading_sd = 0.0;    // of a tension read off rings and dimples, as a fraction
    double place_sd_deg = 0.0;  // of a leak seen in the stain
};

// Without any error: the default. The closure it makes is the level's ideal.
[[nodiscard]] HandSkill faultless_hand();
[[nodiscard]] HandSkill expert_hand();
[[nodiscard]] HandSkill careless_hand();

}  // namespace graftwright
