#include "figure/curvature_map.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "optics/maps.h"
#include "score/bites_in_order.h"
#include "score/ideal_twin.h"

namespace graftwright {
namespace {

constexpr std::size_t kAcross = 65;
constexpr double kWidestMap_mm = 2.5, kNarrowestMap_mm = 1.6;  // the keratometer's ring has to fit
// Some widths of a thread's force (0.15 mm): where the front of an even closure is still smooth.
constexpr double kAxialClear_mm = 0.4, kTangentialClear_mm = 0.75;

}  // namespace

double CurvatureMap::between(Point mm) const {
    const double steps = static_cast<double>(across - 1) / (2 * radius_mm), last = static_cast<double>(across - 2);
    const double u = (mm.x + radius_mm) * steps, v = (mm.y + radius_mm) * steps;
    const auto i = static_cast<std::size_t>(std::clamp(u, 0.0, last)),
               j = static_cast<std::size_t>(std::clamp(v, 0.0, last));
    const double p = u - static_cast<double>(i), q = v - static_cast<double>(j);
    return (1 - q) * ((1 - p) * at(i, j) + p * at(i + 1, j)) + q * ((1 - p) * at(i, j + 1) + p * at(i + 1, j + 1));
}

double map_radius_mm(const Scenario& scenario, const Attempt& attempt, const Scorecard& card, Curvature kind) {
    const Eye& eye = scenario.eye;
    const double R = eye.anterior_radius_mm;
    const double clear_mm = kind == Curvature::axial ? kAxialClear_mm : kTangentialClear_mm;
    double longest_mm = kTwinBite_mm;
    for (const OrderedBite& bite : bites_in_order(attempt)) longest_mm = std::max(longest_mm, bite.graft_bite_mm);
    const double entry = R * std::sin(std::asin(0.5 * eye.bed_diameter_mm / R) - longest_mm / R);
    const double shift = std::hypot(eye.bed_shift_mm[0], eye.bed_shift_mm[1]);
    double radius = std::clamp(entry - clear_mm - shift, kNarrowestMap_mm, kWidestMap_mm);
    if (!card.converged()) return radius;
    radius = std::min(radius, card.attempt.front->radius_covered());
    return card.ideal ? std::min(radius, card.ideal->front->radius_covered()) : radius;
}

CurvatureMap curvature_map(const AnteriorSurface& front, Curvature kind, double radius_mm) {
    CurvatureMap map{radius_mm, kAcross, {}};
    for (const MapPoint& point : square_power_map(front, radius_mm, kAcross).points) {
        const std::optional<double>& value = kind == Curvature::axial ? point.axial_D : point.tangential_D;
        // The rim's own value beyond the circle, so that lines of equal power run straight out.
        const double angle = std::atan2(point.y_mm, point.x_mm);
        map.value_D.push_back(value                      ? *value
                              : kind == Curvature::axial ? axial_power_D(front, radius_mm, angle)
                                                         : tangential_power_D(front, radius_mm, angle));
    }
    return map;
}

}  // namespace graftwright
