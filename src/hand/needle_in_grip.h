// The needle as a body: held by the hand through a stiff but finite grip, dragged by the tissue.
//
// Unknowns are the velocity (vx, vy) of the circle's centre and the turning rate ω. Sliding along the
// needle's own curve at angle a is t·v + Rω, motion across it n·v (t tangent, n normal at a): a pure
// turn never moves across. One tick is implicit, so no stiffness or drag can make it swing:
//   M (v' − v)/h = K(x_hand − x − h v') + C(v_hand − v') − Σ ds [f_t t(t·w) + f_n n(n·w)],  w = v' − tissue's
// with C critical, the grip's force bounded, and f the slope of a friction law from the last pass of
// four (a secant; whatever it has converged to, it takes energy out). Box2D then moves the body.
// Inside: µN, mm, s, g. Fixed tick: same inputs, same bits.
#pragma once

#include <memory>
#include <vector>

#include "hand/wound_section.h"

class b2Body;
class b2World;

namespace graftwright {

// What one tick did to the tissue.
struct DragReport {
    double across_uJ = 0.0;  // work across the needle's curve
    Point on_donor_mN;       // force of the needle on the donor
    Point grip_mN;           // force of the hand on the needle
};

class NeedleInGrip {
  public:
    explicit NeedleInGrip(const Needle& needle);
    ~NeedleInGrip();

    void place(const NeedlePose& pose);
    // The hand's pose goes from `hand_before` to `hand`, the tissue from `before` to `after`.
    DragReport step(const NeedlePose& hand_before, const NeedlePose& hand, const WoundSection& before,
                    const WoundSection& after);

    [[nodiscard]] NeedlePose pose() const;

  private:
    // A piece of the needle inside tissue.
    struct Piece {
        Point tangent, normal;
        double tissue_along, tissue_across;  // tissue's own velocity there, mm/s
        double yield_along, yield_across;    // µN
        double viscous_across;               // µN·s/mm
        bool donor;
    };
    struct Velocity {
        double x, y, turn;
    };

    void find_pieces(const WoundSection& before, const WoundSection& after);
    void add_piece(double behind_mm, double length_mm, const WoundSection& before, const WoundSection& after);
    [[nodiscard]] Velocity velocity() const;
    [[nodiscard]] Velocity solve(const NeedlePose& hand_before, const NeedlePose& hand, DragReport& report) const;
    [[nodiscard]] DragReport reckon(const Velocity& v, const Velocity& slopes_at, DragReport report) const;

    Needle needle_;
    std::unique_ptr<b2World> world_;
    b2Body* body_ = nullptr;
    std::vector<Piece> pieces_;
};

}  // namespace graftwright
