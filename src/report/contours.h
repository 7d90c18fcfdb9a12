// Where a table of values reaches a level: closed loops around the places at or above it.
//
// Marching squares with straight edges between the table's places; a cell whose corners alternate is
// joined or parted by its mean. The table is taken as surrounded by "below every level", so that each
// loop closes; fill them by the even-odd rule, lowest level first, and hide the table's rim.
// Error of a loop's place: that of linear interpolation, h² f″/8.
#pragma once

#include <cstddef>
#include <vector>

namespace graftwright {

struct GridPoint {
    double column = 0, row = 0;  // in steps of the table; 0, 0 is its first value
};

struct ValueGrid {
    std::size_t columns = 0, rows = 0;
    std::vector<double> values;  // row after row
};

[[nodiscard]] std::vector<std::vector<GridPoint>> loops_at_level(const ValueGrid& grid, double level);

}  // namespace graftwright
