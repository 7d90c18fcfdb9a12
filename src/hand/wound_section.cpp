#include "hand/wound_section.h"

namespace graftwright {

Where WoundSection::at(Point space) const {
    if (space.x >= 0.0) {
        if (space.y > 0.0) return Where::front;
        return space.y < -tissue.rim_thickness_mm ? Where::chamber : Where::host;
    }
    if (donor_on_needle) {
        const Point flat = lip.flattened(space);
        if (flat.x <= lip.edge_x) {
            if (flat.y > 0.0) return Where::front;
            return flat.y < -tissue.donor_thickness_mm ? Where::chamber : Where::donor;
        }
    }
    return space.y < -tissue.rim_thickness_mm ? Where::chamber : Where::gap;
}

double WoundSection::depth(Where place, Point space) const {
    switch (place) {
        case Where::donor:
            return -lip.flattened(space).y;
        case Where::host:
        case Where::gap:
            return space.y < 0.0 ? -space.y : 0.0;
        case Where::front:
        case Where::chamber:
            break;
    }
    return 0.0;
}

}  // namespace graftwright
