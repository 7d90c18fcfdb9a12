#include "hand/lip.h"

#include <algorithm>

namespace graftwright {

// Below a nanoradian the arc is flat to far less than any coordinate resolves.
bool Lip::flat() const { return eversion < 1e-9; }

Point Lip::everted(Point flat_point) const {
    const double s = flat_point.x - hinge_x();
    if (flat() || s <= 0.0) return flat_point;
    const double phi = std::min(s, kLipLength_mm) / radius();
    const double r = radius() - thickness - flat_point.y;
    const double beyond = std::max(0.0, s - kLipLength_mm);
    const Point c = centre();
    return {c.x + r * std::sin(phi) + beyond * std::cos(phi), c.y - r * std::cos(phi) + beyond * std::sin(phi)};
}

Point Lip::flattened(Point space) const {
    if (flat() || space.x <= hinge_x()) return space;
    const Point c = centre();
    const double x = space.x - c.x, y = space.y - c.y;
    const double to_front = radius() - thickness;
    const double phi = std::atan2(x, -y);
    if (phi <= eversion) return {c.x + phi * radius(), to_front - std::hypot(x, y)};
    const double along = x * std::cos(eversion) + y * std::sin(eversion);
    const double out = x * std::sin(eversion) - y * std::cos(eversion);
    return {edge_x + along, to_front - out};
}

Point Lip::flattened_direction(Point space, Point direction) const {
    if (flat() || space.x <= hinge_x()) return direction;
    const Point c = centre();
    const double x = space.x - c.x, y = space.y - c.y;
    const double phi = std::min(std::atan2(x, -y), eversion);
    const double stretch = phi < eversion ? radius() / std::hypot(x, y) : 1.0;
    return {stretch * (direction.x * std::cos(phi) + direction.y * std::sin(phi)),
            direction.y * std::cos(phi) - direction.x * std::sin(phi)};
}

}  // namespace graftwright
