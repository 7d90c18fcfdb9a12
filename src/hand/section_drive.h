// One bite in the making, in the plane of the bite: the needle driven through donor and host.
//
// The needle is a Box2D body that the holder turns and shifts (its pose follows the hand's through a
// stiff grip of limited force); tissue resists along the part of the needle that is inside it, little
// along the needle's own curve and much across it. Work done across the curve is trauma. The donor's
// lip, lifted and rolled by the forceps, bends into an arc (lip.h); depth, length and angle are read in
// the flattened tissue, where the lip lies flat again.
// Two passes: donor (front → wound face), host (wound face → front); each may be several strokes.
//
// What it does not do: thread, a needle that bends, a donor that moves bodily (donor_afloat.h takes the
// push), tissue that springs back once the needle has gone, bites from host to donor (a needle that
// goes into the host's front or backwards into a face meets drag, but makes no pass and no event).
// Fixed tick of 1/240 s: same inputs, same bits. Frame and signs: needle.h. No window, no solver.
#pragma once

#include <memory>
#include <vector>

#include "base/point.h"
#include "hand/lip.h"
#include "hand/needle.h"

namespace graftwright {

inline constexpr int kTicksPerSecond = 240;
inline constexpr double kTick = 1.0 / kTicksPerSecond;  // s
inline constexpr double kMostEversion_deg = 40.0;       // design's choice

enum class BiteSide { donor, host };

struct SectionTissue {
    double donor_thickness_mm = 0.55;
    double rim_thickness_mm = 0.62;
    double gap_mm = 0.1;         // donor edge to host edge along x, wound not yet closed; at least 0.02 is taken
    double host_reach_mm = 2.0;  // host's wound edge to the limbus; kept for the caller, tissue goes on
    double softness = 1.0;       // 1 = 1 MPa tissue; drag scales with 1/softness
};

// What the hand does in one tick. Numbers that are not finite count as 0. A hand is no faster than
// 360°/s, 12 mm/s and 120°/s of eversion: what it asks beyond that is done in the following ticks.
struct HandTick {
    double turn_deg = 0.0;      // wrist: + drives the needle forward along its curve
    Point shift_mm;             // holder moved bodily
    double eversion_deg = 0.0;  // of the donor's lip, held by the forceps (absolute, 0 … 40)
};

// What happened in a tick; each crossing is reported once, in the order of the tip's way.
enum class DriveEvent {
    entered_front,   // tip through the donor's front: the donor's pass begins anew, the host's is forgotten
    left_face,       // tip out of the donor's wound face into the gap: that pass is complete
    entered_face,    // tip into the host's wound face
    left_front,      // tip out of the host's front: that pass is complete
    through_back,    // tip through the back, or past it in the wound: in the chamber
    back_in_tissue,  // tip come up out of the chamber, into tissue or the wound
    withdrawn,       // tip out where it went in, or out of the donor's front short of the wound: no pass
};
// Through and through: entered_front, through_back, back_in_tissue, left_face, entered_face, left_front;
// depths are then the whole thickness. Turning back through an exit reopens its pass without an event.

// One side's part of a bite, in the attempt's own units and ranges (levels/attempt.schema.json: a bite
// shorter than 0.2 mm says 0.2); `complete` once the tip has come out where it should. What is known
// earlier is there earlier: the donor's length and angle from its entry on, the host's depth likewise.
struct PassResult {
    bool complete = false;
    bool through_back = false;  // has been in the chamber on the way
    double bite_mm = 0.0;       // along the surface, wound to entry or exit
    double depth_um = 0.0;      // at the wound face, from the front
    double surface_deg = 0.0;   // needle against the surface at entry or exit, 1 … 90
};

class SectionDrive {
  public:
    SectionDrive(const Needle& needle, const SectionTissue& tissue);
    ~SectionDrive();
    SectionDrive(SectionDrive&&) noexcept;
    SectionDrive& operator=(SectionDrive&&) noexcept;

    // Sets the needle down, out of any tissue; used before each stroke (approach and re-grasp). The lip
    // stays as it is. A complete pass is kept, one begun is forgotten. With the tip in the wound (or,
    // the donor's pass complete, anywhere but over the donor's front) the host's drive begins: the
    // donor is lifted off the needle and drags no more. A needle set down in tissue meets its drag but
    // makes no pass until it has come out. Set down where it is (within a micrometre) it is only
    // grasped anew: passes go on.
    void place(const NeedlePose& pose);
    // Advances one tick.
    void step(const HandTick& hand);
    // Events since the last call, in order.
    [[nodiscard]] std::vector<DriveEvent> take_events();

    [[nodiscard]] NeedlePose pose() const;
    // Where the hand would have the needle; at most 0.25 mm ahead of one that tissue holds.
    [[nodiscard]] NeedlePose hand_pose() const;
    [[nodiscard]] const Needle& needle() const;
    [[nodiscard]] const SectionTissue& tissue() const;
    [[nodiscard]] double eversion_deg() const;  // of the lip now, on its way to what the hand asks
    [[nodiscard]] bool in_donor() const;        // tip inside the tissue
    [[nodiscard]] bool in_host() const;
    [[nodiscard]] bool in_chamber() const;
    // Of the tip: under the front, flattened; in the gap, under the host's front; 0 elsewhere.
    [[nodiscard]] double tip_depth_um() const;
    [[nodiscard]] const PassResult& donor_pass() const;
    [[nodiscard]] const PassResult& host_pass() const;
    // Work across the needle's curve so far, µJ (= µN·m = mN·mm), and 30 µJ for every perforation.
    [[nodiscard]] double trauma_uJ() const;
    // Force across the curve in this tick, summed along the needle: how hard the tissue is dragged.
    [[nodiscard]] double across_mN() const;
    // Force on the donor this tick along x (mN, + outward): it pushes a donor that nobody holds.
    [[nodiscard]] double donor_push_mN() const;
    // Force of the needle on donor and host together, and of the hand on the needle: equal at rest.
    [[nodiscard]] Point tissue_force_mN() const;
    [[nodiscard]] Point grip_force_mN() const;
    // The tip's track in flattened tissue (x, y as in the section frame with the lip lying flat), a
    // point every 10 µm or so, exactly from surface to surface; turning back shortens it.
    [[nodiscard]] const std::vector<Point>& track(BiteSide side) const;
    // Flattened donor tissue → where it is now, with the lip everted; and back. For drawing.
    [[nodiscard]] Point everted(Point flat) const;
    [[nodiscard]] Point flattened(Point space) const;

  private:
    struct Body;
    std::unique_ptr<Body> body_;
};

}  // namespace graftwright
