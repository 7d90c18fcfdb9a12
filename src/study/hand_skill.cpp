#include "study/hand_skill.h"

namespace graftwright {

HandSkill faultless_hand() {
    HandSkill hand;
    hand.name = "faultless";
    hand.bite_s = 30.0;  // in time wherever an expert is
    return hand;
}

HandSkill expert_hand() {
    HandSkill hand;
    hand.name = "expert";
    hand.angle_sd_deg = 0.7;   // T8-01, T8-12: spacing range 0.25 mm = 3.6° over 16 gaps of sd √2 · 0.7°
    hand.skew_sd_mm = 0.04;    // chord off the radius by 1.5°; 5–10° would be seen (T8-13, no published limit)
    hand.length_sd_mm = 0.06;  // T8-01: range 0.25 mm or less
    hand.depth_sd = 0.02;      // T8-01: range 0.10 of the thickness or less; mean 0.92 within T3-31's best
    hand.levels_fronts = true;
    hand.counters_ovality = true;
    hand.held_slip_sd_deg = 0.5;  // 0.035 mm, a thread's width; our choice
    hand.free_slip_sd_deg = 6.0;  // the game's unsteadied donor turns by 3–10°
    hand.tension_sd = 0.08;       // our choice; even tension is common practice, no source
    hand.bite_s = 50.0;           // 16 in under 15 min (T8-01: full marks)
    hand.bite_sd_s = 8.0;         // our choice
    hand.harms_a_bite = 0.01;     // our choice
    hand.notices = 0.98;          // our choice
    hand.reading_sd = 0.12;       // our choice
    hand.place_sd_deg = 4.0;      // our choice
    return hand;
}

HandSkill careless_hand() {
    HandSkill hand;
    hand.name = "careless";
    hand.angle_sd_deg = 3.0;  // spacing range about 15°, 1 mm: T8-01 gives no mark beyond 0.5 mm
    hand.skew_sd_mm = 0.2;    // chord off the radius by 7°; our choice
    hand.length_sd_mm = 0.2;  // range 0.7 mm: no mark in T8-01
    hand.depth = 0.70;        // T3-32: the shallow end of what is taught
    hand.depth_sd = 0.08;     // range 0.28 of the thickness: no mark in T8-01
    hand.steadies = 0.5;      // our choice
    hand.held_slip_sd_deg = 1.5;
    hand.free_slip_sd_deg = 6.0;
    hand.tension_sd = 0.35;    // our choice
    hand.works_round = 0.3;    // our choice
    hand.bite_s = 75.0;        // 16 in 20 min, T8-01's last mark
    hand.bite_sd_s = 15.0;     // our choice
    hand.harms_a_bite = 0.25;  // our choice
    hand.notices = 0.2;        // our choice
    hand.guesses = true;
    return hand;
}

}  // namespace graftwright
