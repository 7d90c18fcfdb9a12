// The donor's lip, lifted and rolled by the forceps: where its tissue is, and where it lies when flat.
//
// The last kLipLength_mm of the donor bend into a circular arc, tangent to the rest at the hinge; its
// end has turned up by the eversion angle ε. The back keeps its length L and thickness fibres stay
// straight, as long as they were, and normal to the back (our choice: lamellae bear pulling and give
// under compression, so a wall bends about its pulled side; it also keeps the face clear of the host).
// So ρ = L/ε is the back's radius, and a flat point at s past the hinge and depth d is at
//   C + r (sin φ, −cos φ),   φ = s/ρ,  r = ρ − t + d,   C above the hinge, ρ from the back.
// Polar angle and radius about C give s and d back: the inverse is closed as well.
// Section frame of needle.h, mm. Beyond the edge the map goes on as a rigid motion.
#pragma once

#include "hand/needle.h"

namespace graftwright {

inline constexpr double kLipLength_mm = 2.0;  // the part of the donor that forceps lift (our choice)

struct Lip {
    double edge_x = 0.0;  // where the donor's front ends when flat
    double thickness = 0.55;
    double eversion = 0.0;  // ε, rad

    [[nodiscard]] double hinge_x() const { return edge_x - kLipLength_mm; }
    // Flat tissue (y = −depth) → space, and back.
    [[nodiscard]] Point everted(Point flat) const;
    [[nodiscard]] Point flattened(Point space) const;
    // A direction at a point of space, as it runs in the flattened tissue (not of unit length).
    [[nodiscard]] Point flattened_direction(Point space, Point direction) const;

  private:
    [[nodiscard]] bool flat() const;
    [[nodiscard]] double radius() const { return kLipLength_mm / eversion; }  // ρ
    [[nodiscard]] Point centre() const { return {hinge_x(), radius() - thickness}; }
};

}  // namespace graftwright
