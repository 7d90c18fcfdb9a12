// How an expert drives a bite: where the needle is set down, at which pitch, and how far it is turned.
//
// Each side is one circle of the needle's radius through two given points: the surface at the bite's
// length and the wound face at the depth aimed at (donor: where that point of the everted lip is in
// space). Chord c at the angle β to the surface, so that the needle's heading there is β ± asin(c/2R).
// Nothing but turning of the wrist lies between the two; donor and host are two drives, the needle
// grasped anew in the wound. For 0.55 mm donor, 0.62 mm rim, 1.1/1.1 mm, 0.92 deep, at the surface:
//   lip's eversion      0°     10°    20°    30°    40°      host: heading 13.3° up at the face,
//   pitch at the front  38.5°  31.5°  24.4°  17.4°  10.3°    28.2° of turn to the front, 41.5° there
//   turn to the face    27.5°  26.9°  26.3°  25.6°  24.9°    (0.75 mm rim: 17.3°, 29.5°, 46.9°)
// `ExpertStroke` starts a little before and ends a little after. Frame: needle.h. For tests of the hand and of the game
// alike.
#pragma once

#include "hand/section_drive.h"

namespace graftwright::scenes {

struct ExpertAim {
    double donor_bite_mm = 1.1, host_bite_mm = 1.1;
    double depth_fraction = 0.92;      // of either side's thickness, at the wound face
    double eversion_deg = 20.0;        // of the donor's lip, while the donor is driven
    double turn_deg_per_tick = 0.125;  // 30° a second
};

// One drive: set the tip down here, lift the lip, then turn for so many ticks.
struct ExpertStroke {
    Point tip;
    double pitch_deg = 0.0;  // as needle_at takes it; + down
    double eversion_deg = 0.0;
    int ticks = 0;
    double turn_deg_per_tick = 0.0;
};

struct ExpertBite {
    ExpertStroke donor, host;
};

[[nodiscard]] ExpertBite expert_bite(const Needle& needle, const SectionTissue& tissue, const ExpertAim& aim = {});

// Plays a stroke: lip first, until it lies as asked, then the turn.
void play(SectionDrive& drive, const ExpertStroke& stroke);

}  // namespace graftwright::scenes
