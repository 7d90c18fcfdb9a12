// The needle as a body: held by the hand through a stiff but finite grip, dragged by the tissue.
//
// Unknowns are the velocity (vx, vy) of the circle's centre and the turning rate ω. Sliding along the
// needle's own curve is t·v + Rω, motion across it n·v (t tangent, n normal of the curve there): a pure
// turn never moves across. One tick is implicit, so no stiffness or drag can make the needle swing:
//   M (v' − v)/h = K(x_hand − x − h v') + C(v_hand − v') − Σ [f_t t(t·w) + f_n n(n·w)],  w = v' − tissue's
// C is critical, the grip's force has a bound, f are slopes of the friction laws at the last of a few
// passes (secants: whatever they have converged to, they take energy out). Box2D then moves the body.
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
    double across_mN = 0.0;  // force across the curve, summed along the needle without regard to sense
    Point on_donor_mN;       // force of the needle on the donor
    Point on_tissue_mN;      // and on donor and host together
    Point grip_mN;           // force of the hand on the needle
};

class NeedleInGrip {
  public:
    explicit NeedleInGrip(const Needle& needle);
    ~NeedleInGrip();

    void place(const NeedlePose& pose);
    // In this tick the hand's pose goes from `hand_before` to `hand`, the tissue from `before` to `after`.
    DragReport step(const NeedlePose& hand_before, const NeedlePose& hand, const WoundSection& before,
                    const WoundSection& after);

    [[nodiscard]] NeedlePose pose() const;

  private:
    struct Velocity {
        double x = 0.0, y = 0.0, turn = 0.0;
    };
    // A piece of the needle inside tissue. Yields in µN, viscous in µN·s/mm, tissue's velocity in mm/s.
    struct Piece {
        Point tangent, normal;
        double radius = 0.0;
        double yield_along = 0.0, yield_across = 0.0, viscous_across = 0.0;
        double tissue_along = 0.0, tissue_across = 0.0;
        bool donor = false;

        // Speeds against the tissue, and the friction laws' slopes (force per speed) at a speed.
        [[nodiscard]] double along(const Velocity& v) const;
        [[nodiscard]] double across(const Velocity& v) const;
        [[nodiscard]] double along_slope(double speed) const;
        [[nodiscard]] double across_slope(double speed) const;
    };
    struct Hand;

    void find_pieces(const WoundSection& before, const WoundSection& after);
    void add_piece(double behind_mm, double length_mm, const WoundSection& before, const WoundSection& after);
    [[nodiscard]] Velocity velocity() const;
    void accelerate(const Velocity& from, const Velocity& to);
    [[nodiscard]] DragReport reckon(const Velocity& v) const;

    Needle needle_;
    std::unique_ptr<b2World> world_;
    b2Body* body_ = nullptr;
    std::vector<Piece> pieces_;
};

}  // namespace graftwright
