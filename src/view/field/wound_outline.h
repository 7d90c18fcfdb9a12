// Where donor and host edges stand in the picture, all the way round.
//
// Field frame, mm. The host's edge is the bed's ellipse. The donor's lies inside it, as far in as the last
// solved wound's front gap says; before the wound is solved (fewer than three bites) at the play of a loose
// donor, drawn to where it floats, closing toward the bites that hold it. A lip lifted by the forceps stands
// back from the wound by what an arc of the lip's length loses in projection: L (1 − sin φ/φ). A picture of
// what the hand record and the solver know; decides nothing.
#pragma once

#include "base/point.h"
#include "game/snapshot.h"

namespace graftwright {

class WoundOutline {
  public:
    explicit WoundOutline(const Snapshot& snapshot);

    [[nodiscard]] double host_radius_mm(double rad) const;  // about the field's centre
    [[nodiscard]] double gap_mm(double rad) const;          // host − donor, ≥ 0
    [[nodiscard]] Point host_edge(double rad) const;
    [[nodiscard]] Point donor_edge(double rad) const;

    [[nodiscard]] const DonorPose& donor() const { return snapshot_.donor; }
    [[nodiscard]] double donor_radius_mm() const { return donor_radius_; }  // mean, as it lies in the bed
    [[nodiscard]] double donor_half_oval_mm() const { return donor_half_oval_; }
    [[nodiscard]] double donor_oval_axis_rad() const { return donor_oval_axis_; }  // in the field
    [[nodiscard]] double lift() const { return lift_; }  // of the lip, 0 … 1 at the most eversion
    [[nodiscard]] double lift_rad() const { return lift_rad_; }

  private:
    [[nodiscard]] double loose_gap(double rad) const;
    [[nodiscard]] double solved_gap(double rad) const;

    const Snapshot& snapshot_;
    double bed_radius_ = 3.875, bed_half_oval_ = 0.0, bed_axis_ = 0.0;
    double donor_radius_ = 3.8, donor_half_oval_ = 0.0, donor_oval_axis_ = 0.0;
    double lift_ = 0.0, lift_rad_ = 0.0;
};

}  // namespace graftwright
