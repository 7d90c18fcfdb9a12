#include "report/contours.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/check.h"

namespace graftwright {
namespace {

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

// The table with its rim of "below", and the edges between its places: 2 i to the right, 2 i + 1 down.
class Padded {
  public:
    Padded(const ValueGrid& grid, double level) : grid_(grid), level_(level), width_(grid.columns + 2) {}

    [[nodiscard]] std::size_t width() const { return width_; }
    [[nodiscard]] std::size_t height() const { return grid_.rows + 2; }
    [[nodiscard]] double value(std::size_t column, std::size_t row) const {
        const bool rim = column == 0 || row == 0 || column > grid_.columns || row > grid_.rows;
        return rim ? level_ - kFarBelow : grid_.values[(row - 1) * grid_.columns + column - 1];
    }
    [[nodiscard]] bool inside(std::size_t column, std::size_t row) const { return value(column, row) >= level_; }
    [[nodiscard]] GridPoint crossing(std::size_t edge) const {
        const std::size_t place = edge / 2, column = place % width_, row = place / width_;
        const bool down = edge % 2 == 1;
        const double a = value(column, row), b = down ? value(column, row + 1) : value(column + 1, row);
        const double share = (level_ - a) / (b - a);
        return {static_cast<double>(column) - 1 + (down ? 0 : share),
                static_cast<double>(row) - 1 + (down ? share : 0)};
    }

  private:
    static constexpr double kFarBelow = 1e9;
    const ValueGrid& grid_;
    double level_;
    std::size_t width_;
};

// The loops pass a cell from edge to edge with the high side on their left hand: top, right, bottom, left.
void link_cell(const Padded& grid, std::size_t column, std::size_t row, double level, std::vector<std::size_t>& next) {
    const std::size_t place = row * grid.width() + column;
    const std::array<std::size_t, 4> edge = {2 * place, 2 * (place + 1) + 1, 2 * (place + grid.width()), 2 * place + 1};
    // Corners in the order of the edges that follow them: top left, top right, bottom right, bottom left.
    const std::array<bool, 4> in = {grid.inside(column, row), grid.inside(column + 1, row),
                                    grid.inside(column + 1, row + 1), grid.inside(column, row + 1)};
    const double mean = 0.25 * (grid.value(column, row) + grid.value(column + 1, row) +
                                grid.value(column + 1, row + 1) + grid.value(column, row + 1));
    const bool alternate = in[0] == in[2] && in[1] == in[3] && in[0] != in[1];
    for (std::size_t k = 0; k < 4; ++k) {
        // The loop enters over an edge that goes from inside to outside, seen clockwise.
        if (!in[k] || in[(k + 1) % 4]) continue;
        std::size_t out = (k + 1) % 4;
        if (alternate && mean >= level) {
            // Joined through the middle: around the next, outside corner.
            next[edge[k]] = edge[out];
            continue;
        }
        if (alternate) {
            out = (k + 3) % 4;  // parted: around the corner just passed
            next[edge[k]] = edge[out];
            continue;
        }
        while (in[out] || !in[(out + 1) % 4]) out = (out + 1) % 4;
        next[edge[k]] = edge[out];
    }
}

}  // namespace

std::vector<std::vector<GridPoint>> loops_at_level(const ValueGrid& grid, double level) {
    GRAFTWRIGHT_CHECK(grid.values.size() == grid.columns * grid.rows, "a table is rows times columns");
    const Padded padded(grid, level);
    std::vector<std::size_t> next(2 * padded.width() * padded.height(), kNone);
    for (std::size_t row = 0; row + 1 < padded.height(); ++row) {
        for (std::size_t column = 0; column + 1 < padded.width(); ++column) {
            link_cell(padded, column, row, level, next);
        }
    }
    std::vector<std::vector<GridPoint>> loops;
    for (std::size_t start = 0; start < next.size(); ++start) {
        if (next[start] == kNone) continue;
        std::vector<GridPoint> loop;
        for (std::size_t edge = start; next[edge] != kNone;) {
            loop.push_back(padded.crossing(edge));
            const std::size_t following = next[edge];
            next[edge] = kNone;
            edge = following;
        }
        loops.push_back(std::move(loop));
    }
    return loops;
}

}  // namespace graftwright
