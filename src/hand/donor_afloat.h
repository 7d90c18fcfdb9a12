// The donor before it is anchored: a disc afloat on viscoelastic in its bed.
//
// A Box2D body whose sliding and turning the viscoelastic under it damps (drag c on the speed, c r²/2
// on the turning, taken implicitly), free within a little play inside the bed's outline, tied by one
// distance joint per tied bite (the thread's stiffness, slack below its length), pushed by the needle,
// steadied by the forceps: two springs (mouse joints) at the pinch and to either side of it, since a
// pinch of the lip resists turning too. Oval beds and donors keep their outlines.
// Nothing of it but the angles where a bite's plane crosses the two edges is handed to the closure.
// What it does not do: lift, tilt or bend the donor; rub at the wall; lose viscoelastic.
// Field frame, mm, centre of the bed at the origin; x toward 0° (3 o'clock), y toward 90°, as an
// examiner sees it. Turn: rad, counter-clockwise. Fixed tick of 1/240 s: same inputs, same bits.
#pragma once

#include <cstddef>
#include <memory>

#include "hand/needle.h"

namespace graftwright {

struct AfloatShape {
    double bed_diameter_mm = 7.75, bed_ovality_mm = 0.0, bed_ovality_axis_deg = 0.0;
    double donor_diameter_mm = 8.0, donor_ovality_mm = 0.0, donor_ovality_axis_deg = 0.0;
    double thread_N_per_mm = 0.3;  // stiffness of one tied loop
};

struct DonorPose {
    double x = 0.0, y = 0.0;  // mm
    double turn = 0.0;        // rad

    // Between the field and the donor's own frame.
    [[nodiscard]] Point to_field(Point donor) const;
    [[nodiscard]] Point to_donor(Point field) const;
};

class DonorAfloat {
  public:
    explicit DonorAfloat(const AfloatShape& shape, DonorPose start = {});
    ~DonorAfloat();
    DonorAfloat(DonorAfloat&&) noexcept;
    DonorAfloat& operator=(DonorAfloat&&) noexcept;

    // A tied bite between the donor's edge at graft_deg (its own frame) and the host's at host_deg; ids
    // count up from 0 and are never reused. The tether's length is the one at which it now lies; it
    // holds 0.3 mm to either side of the wound, where the closed faces grip each other.
    std::size_t tether(double graft_deg, double host_deg);
    void cut(std::size_t tether);
    [[nodiscard]] std::size_t tethers() const;  // now in place

    // Forceps on the donor at a point of the field; false where there is no donor under them. The hold
    // stands still in the field until it is moved (at most 20 mm/s) or let go.
    bool hold(Point field);
    void move_hold(Point field);
    void let_go();
    [[nodiscard]] bool held() const;
    [[nodiscard]] Point hold_point() const;  // on the donor now, in the field

    // Needle's force (mN) at a point of the field, during the next tick only; at most 200 mN. Points and
    // forces that are not finite are passed over.
    void push(Point field, Point force_mN);
    void step();

    [[nodiscard]] DonorPose pose() const;

  private:
    struct Body;
    std::unique_ptr<Body> body_;
};

}  // namespace graftwright
