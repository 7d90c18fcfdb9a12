#include "figure/contours.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "base/check.h"
#include "base/point.h"

namespace graftwright {
namespace {

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

// The map with its rim of "below", and the edges between its places: 2 i to the right, 2 i + 1 down.
class Padded {
  public:
    Padded(const CurvatureMap& map, double level) : map_(map), level_(level), width_(map.across + 2) {}

    [[nodiscard]] std::size_t width() const { return width_; }
    [[nodiscard]] double value(std::size_t column, std::size_t row) const {
        const bool rim = column == 0 || row == 0 || column > map_.across || row > map_.across;
        return rim ? level_ - kFarBelow : map_.at(column - 1, row - 1);
    }
    [[nodiscard]] bool inside(std::size_t column, std::size_t row) const { return value(column, row) >= level_; }
    [[nodiscard]] Point crossing(std::size_t edge) const {
        const std::size_t place = edge / 2, column = place % width_, row = place / width_;
        const bool down = edge % 2 == 1;
        const double a = value(column, row), b = down ? value(column, row + 1) : value(column + 1, row);
        const double share = (level_ - a) / (b - a);
        return {map_.mm(static_cast<double>(column) - 1 + (down ? 0 : share)),
                map_.mm(static_cast<double>(row) - 1 + (down ? share : 0))};
    }

  private:
    static constexpr double kFarBelow = 1e9;
    const CurvatureMap& map_;
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

std::vector<std::vector<Point>> loops_at_level(const CurvatureMap& map, double level_D) {
    GRAFTWRIGHT_CHECK(map.value_D.size() == map.across * map.across, "a map is square");
    const Padded padded(map, level_D);
    std::vector<std::size_t> next(2 * padded.width() * padded.width(), kNone);
    for (std::size_t row = 0; row + 1 < padded.width(); ++row) {
        for (std::size_t column = 0; column + 1 < padded.width(); ++column) {
            link_cell(padded, column, row, level_D, next);
        }
    }
    std::vector<std::vector<Point>> loops;
    for (std::size_t start = 0; start < next.size(); ++start) {
        if (next[start] == kNone) continue;
        std::vector<Point> loop;
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

std::vector<std::vector<Point>> lines_at_level(const CurvatureMap& map, double level_D) {
    std::vector<std::vector<Point>> lines;
    const auto beyond = [&](const Point& mm) { return std::hypot(mm.x, mm.y) > map.radius_mm; };
    for (std::vector<Point>& loop : loops_at_level(map, level_D)) {
        const auto out = std::find_if(loop.begin(), loop.end(), beyond);
        if (out == loop.end()) {
            loop.push_back(loop.front());
            lines.push_back(std::move(loop));
            continue;
        }
        std::rotate(loop.begin(), out, loop.end());  // begins beyond the circle: no line runs over the loop's seam
        for (auto from = loop.begin(); from != loop.end();) {
            from = std::find_if_not(from, loop.end(), beyond);
            const auto to = std::find_if(from, loop.end(), beyond);
            if (from != to) lines.emplace_back(from, to);
            from = to;
        }
    }
    return lines;
}

}  // namespace graftwright
