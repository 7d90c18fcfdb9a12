// One bite in the making, in the plane of the bite: the needle driven through donor and host.
//
// The needle is a Box2D body that the holder turns and shifts (its pose follows the hand's through a
// stiff grip); tissue resists at points along the part of the needle that is inside it, little along the
// needle's own curve and much across it. Work done across the curve is trauma. The donor's lip, lifted
// and rolled by the forceps, is a circular arc of kLipLength that ends at the eversion angle; depth,
// length and angle are read in the flattened tissue, where the lip lies flat again.
// Two passes: donor (front → wound face), host (wound face → front); each may be several strokes.
// Fixed tick of 1/240 s: same inputs, same bits. Frame and signs: needle.h. No window, no solver.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "hand/lip.h"
#include "hand/needle.h"

namespace graftwright {

inline constexpr int kTicksPerSecond = 240;
inline constexpr double kMostEversion_deg = 40.0;  // design's choice

enum class BiteSide { donor, host };

struct SectionTissue {
    double donor_thickness_mm = 0.55;
    double rim_thickness_mm = 0.62;
    double gap_mm = 0.1;         // donor edge to host edge along x, wound not yet closed
    double host_reach_mm = 2.0;  // host's wound edge to the limbus
    double softness = 1.0;       // 1 = 1 MPa tissue; drag scales with 1/softness
};

// What the hand does in one tick.
struct HandTick {
    double turn_deg = 0.0;      // wrist: + drives the needle forward along its curve
    Point shift_mm;             // holder moved bodily
    double eversion_deg = 0.0;  // of the donor's lip, held by the forceps (absolute)
};

// What happened in a tick; each is reported once.
enum class DriveEvent {
    entered_front,   // tip through the donor's front
    left_face,       // tip out of the donor's wound face into the gap
    entered_face,    // tip into the host's wound face
    left_front,      // tip out of the host's front: the pass is complete
    through_back,    // tip through the back, in the chamber
    back_in_tissue,  // withdrawn from the chamber
    withdrawn,       // tip back out of the way it came in
};

// One side's part of a bite, in the attempt's own units; `complete` once the tip has come out where it should.
struct PassResult {
    bool complete = false;
    bool through_back = false;  // has been in the chamber on the way
    double bite_mm = 0.0;       // along the surface, wound to entry or exit
    double depth_um = 0.0;      // at the wound face, from the front
    double surface_deg = 0.0;   // path against the surface at entry or exit
};

class SectionDrive {
  public:
    SectionDrive(const Needle& needle, const SectionTissue& tissue);
    ~SectionDrive();
    SectionDrive(SectionDrive&&) noexcept;
    SectionDrive& operator=(SectionDrive&&) noexcept;

    // Sets the needle down, out of any tissue; used before each stroke (approach and re-grasp). A
    // re-grasp while the needle is in the donor keeps that pass' result: from then on the host is
    // driven by the pose given here, tip in the gap.
    void place(const NeedlePose& pose);
    // Advances one tick.
    void step(const HandTick& hand);
    // Events since the last call, in order.
    [[nodiscard]] std::vector<DriveEvent> take_events();

    [[nodiscard]] NeedlePose pose() const;
    [[nodiscard]] const Needle& needle() const;
    [[nodiscard]] const SectionTissue& tissue() const;
    [[nodiscard]] double eversion_deg() const;
    [[nodiscard]] bool in_donor() const;  // tip inside the tissue
    [[nodiscard]] bool in_host() const;
    [[nodiscard]] bool in_chamber() const;
    [[nodiscard]] double tip_depth_um() const;  // under the front, flattened; 0 outside
    [[nodiscard]] const PassResult& donor_pass() const;
    [[nodiscard]] const PassResult& host_pass() const;
    // Work across the needle's curve so far, µJ (= µN·m = mN·mm), and the force on the donor this tick
    // along x (mN, + outward): it pushes a donor that nobody holds.
    [[nodiscard]] double trauma_uJ() const;
    [[nodiscard]] double donor_push_mN() const;
    // The tip's track in flattened tissue (x, y as in the section frame with the lip lying flat), a
    // point every 10 µm or so.
    [[nodiscard]] const std::vector<Point>& track(BiteSide side) const;
    // Flattened donor tissue → where it is now, with the lip everted; for drawing.
    [[nodiscard]] Point everted(Point flat) const;

  private:
    struct Body;
    std::unique_ptr<Body> body_;
};

}  // namespace graftwright
