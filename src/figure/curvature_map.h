// Axial or tangential power over the middle of the donor, as a table.
//
// Values: optics/maps.h on the front that the keratometer read. Out to 2.5 mm from the pupil's centre, less where bites
// enter the donor nearby: axial power stays 0.4 mm clear of them, tangential power, a second derivative, 0.75 mm. Over
// the entries curvature is of the thread's own size and has no optical meaning.
#pragma once

#include <cstddef>
#include <vector>

#include "base/point.h"
#include "files/attempt.h"
#include "files/scenario.h"
#include "score/scorecard.h"

namespace graftwright {

enum class Curvature { axial, tangential };

// A square of places around a circle that holds what is meant: mm, x to the right, y upward from its middle.
struct CurvatureMap {
    double radius_mm = 1.0;
    std::size_t across = 0;       // places along a side, at least 2
    std::vector<double> value_D;  // row after row from the bottom; beyond the circle its rim's own value

    [[nodiscard]] double at(std::size_t column, std::size_t row) const { return value_D[row * across + column]; }
    // Where a column or row stands, also between two.
    [[nodiscard]] double mm(double index) const {
        return index * (2 * radius_mm / static_cast<double>(across - 1)) - radius_mm;
    }
    // Between the four places around a point of the square.
    [[nodiscard]] double between(Point mm) const;
};

// Radius (mm) of the maps of a kind, the same for attempt and ideal.
[[nodiscard]] double map_radius_mm(const Scenario& scenario, const Attempt& attempt, const Scorecard& card,
                                   Curvature kind);
[[nodiscard]] CurvatureMap curvature_map(const AnteriorSurface& front, Curvature kind, double radius_mm);

}  // namespace graftwright
