#include "view/kit/contour.h"

#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace graftwright {
namespace {

// An edge of the grid by number: 2 × its lower left point, + 1 where it runs upward.
using Edge = int;
using Links = std::map<Edge, std::vector<Edge>>;  // ordered: the same lines in the same order every time

class Grid {
  public:
    Grid(const SurfaceMap& map, double level) : map_(map), level_(level) {}

    [[nodiscard]] Links links() const {
        Links found;
        for (int j = 0; j + 1 < map_.n; ++j)
            for (int i = 0; i + 1 < map_.n; ++i) add_cell(i, j, found);
        return found;
    }

    [[nodiscard]] Point point(Edge edge) const {
        const int place = edge / 2, i = place % map_.n, j = place / map_.n;
        const bool upward = edge % 2 == 1;
        const double a = value(i, j), b = upward ? value(i, j + 1) : value(i + 1, j);
        const double share = (level_ - a) / (b - a);
        return upward ? Point{mm(i), mm(j + share)} : Point{mm(i + share), mm(j)};
    }

  private:
    [[nodiscard]] double value(int i, int j) const { return static_cast<double>(map_.at(i, j)); }
    [[nodiscard]] double mm(double index) const { return map_.reach_mm * (2.0 * index / (map_.n - 1) - 1.0); }
    [[nodiscard]] Edge along(int i, int j) const { return 2 * (j * map_.n + i); }
    [[nodiscard]] Edge upward(int i, int j) const { return along(i, j) + 1; }

    void add_cell(int i, int j, Links& found) const {
        const std::array<double, 4> corner{value(i, j), value(i + 1, j), value(i + 1, j + 1), value(i, j + 1)};
        double mean = 0.0;
        for (const double v : corner) {
            if (!std::isfinite(v)) return;
            mean += v / 4.0;
        }
        // Edges in order around the cell, each between corner k and k + 1.
        const std::array<Edge, 4> edge{along(i, j), upward(i + 1, j), along(i, j + 1), upward(i, j)};
        const auto above = [&](std::size_t k) { return corner[k % 4] >= level_; };
        std::vector<std::size_t> crossed;
        for (std::size_t k = 0; k < 4; ++k)
            if (above(k) != above(k + 1)) crossed.push_back(k);
        const auto join = [&](std::size_t a, std::size_t b) {
            found[edge[a]].push_back(edge[b]);
            found[edge[b]].push_back(edge[a]);
        };
        if (crossed.size() == 2) join(crossed[0], crossed[1]);
        if (crossed.size() == 4) {
            // Saddle: the lines cut off the corners that differ from the middle.
            const bool cut_even = above(0) != (mean >= level_);
            if (cut_even) {
                join(3, 0);
                join(1, 2);
            } else {
                join(0, 1);
                join(2, 3);
            }
        }
    }

    const SurfaceMap& map_;
    double level_;
};

// Follows one line from an edge and takes its links out.
std::vector<Edge> follow(Links& links, Edge start) {
    std::vector<Edge> line{start};
    while (!links[line.back()].empty()) {
        const Edge here = line.back(), next = links[here].back();
        links[here].pop_back();
        std::erase(links[next], here);
        line.push_back(next);
    }
    return line;
}

}  // namespace

std::vector<Contour> contours(const SurfaceMap& map, double level) {
    const Grid grid(map, level);
    Links links = grid.links();
    std::vector<Edge> starts;
    for (const auto& [edge, others] : links)  // open lines first, from their ends
        if (others.size() == 1) starts.push_back(edge);
    for (const auto& entry : links) starts.push_back(entry.first);

    std::vector<Contour> lines;
    for (const Edge start : starts) {
        if (links[start].empty()) continue;
        const std::vector<Edge> way = follow(links, start);
        Contour line{level, {}, way.front() == way.back()};
        for (const Edge edge : way) line.line.push_back(grid.point(edge));
        lines.push_back(std::move(line));
    }
    return lines;
}

}  // namespace graftwright
