// What lies where in the plane of the bite: donor (its lip everted), wound, host, chamber.
// Section frame of needle.h, mm. Fronts of donor and host are level and flat; cut faces are square.
#pragma once

#include "hand/lip.h"
#include "hand/section_drive.h"

namespace graftwright {

enum class Where { front, donor, gap, host, chamber };

struct WoundSection {
    SectionTissue tissue;
    Lip lip;
    // False once the needle has been grasped anew in the wound: the donor is lifted off it, the thread
    // lies in the donor's track, and everything on the donor's side of the host's face is open.
    bool donor_on_needle = true;

    explicit WoundSection(const SectionTissue& of) : tissue(of), lip{-of.gap_mm, of.donor_thickness_mm, 0.0} {}

    // Beyond the donor's edge all is gap but what lies behind the host's back.
    [[nodiscard]] Where at(Point space) const;
    // Depth under the front in flattened tissue, for a point at that place.
    [[nodiscard]] double depth(Where place, Point space) const;
};

}  // namespace graftwright
