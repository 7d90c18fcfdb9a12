// A point of a plane, or the way from one to another; the unit (mm, design pixels) is its owner's.
#pragma once

#include <cmath>

namespace graftwright {

struct Point {
    double x = 0.0, y = 0.0;
    friend bool operator==(const Point&, const Point&) = default;
};

// a + times·b
[[nodiscard]] inline Point plus(Point a, Point b, double times = 1.0) { return {a.x + times * b.x, a.y + times * b.y}; }
[[nodiscard]] inline Point minus(Point a, Point b) { return {a.x - b.x, a.y - b.y}; }
[[nodiscard]] inline double dot(Point a, Point b) { return a.x * b.x + a.y * b.y; }
[[nodiscard]] inline double norm(Point a) { return std::hypot(a.x, a.y); }
[[nodiscard]] inline double distance(Point a, Point b) { return norm(minus(a, b)); }
[[nodiscard]] inline Point polar(double radius, double rad) { return {radius * std::cos(rad), radius * std::sin(rad)}; }

}  // namespace graftwright
