// Lines of equal value, where a slip would draw a wrong map.
#include "figure/contours.h"

#include <cmath>

#include <catch2/catch.hpp>

#include "base/units.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// Over the square of half-width 1.
CurvatureMap map_of(std::size_t across, double (*value)(double, double)) {
    CurvatureMap map{1.0, across, {}};
    for (std::size_t row = 0; row < across; ++row) {
        for (std::size_t column = 0; column < across; ++column) {
            map.value_D.push_back(value(map.mm(static_cast<double>(column)), map.mm(static_cast<double>(row))));
        }
    }
    return map;
}

// The area enclosed, signed.
double area_of(const std::vector<Point>& loop) {
    double sum = 0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Point &a = loop[i], &b = loop[(i + 1) % loop.size()];
        sum += a.x * b.y - b.x * a.y;
    }
    return 0.5 * sum;
}

}  // namespace

TEST_CASE("contours: a cone's level is one circle of the right place and size", "[figure]") {
    const CurvatureMap map = map_of(81, [](double x, double y) { return 1 - std::hypot(x, y); });
    const auto loops = loops_at_level(map, 0.5);
    REQUIRE(loops.size() == 1);
    for (const Point& p : loops.front()) {
        // Linear interpolation between places h = 1/40 apart: h²/8r of the circle of radius a half, twice over.
        CHECK_THAT(std::hypot(p.x, p.y), WithinAbs(0.5, 0.01 / 40));
    }
    CHECK_THAT(std::abs(area_of(loops.front())), WithinRel(kPi / 4, 2e-3));
    const auto lines = lines_at_level(map, 0.5);
    REQUIRE(lines.size() == 1);
    CHECK(lines.front().front() == lines.front().back());
}

TEST_CASE("contours: within the circle a slope is one open line from rim to rim, and a saddle gives two", "[figure]") {
    const auto line = lines_at_level(map_of(41, [](double x, double) { return x; }), 0.17);
    REQUIRE(line.size() == 1);
    for (const Point& p : line.front()) {
        CHECK_THAT(p.x, WithinAbs(0.17, 1e-9));
        CHECK(std::hypot(p.x, p.y) <= 1.0);
    }
    CHECK(std::abs(line.front().front().y - line.front().back().y) > 1.8);
    CHECK(lines_at_level(map_of(41, [](double x, double y) { return x * y; }), 0.05).size() == 2);
    CHECK(lines_at_level(map_of(41, [](double x, double y) { return x * y; }), 100.0).empty());
    CHECK(lines_at_level(map_of(41, [](double x, double y) { return x * y; }), -100.0).empty());  // no rim
}

TEST_CASE("contours: a hole in a hill turns the other way round than its rim", "[figure]") {
    const CurvatureMap map = map_of(61, [](double x, double y) {
        const double r = std::hypot(x, y);
        return r * (1 - r);
    });
    const auto loops = loops_at_level(map, 0.2);
    REQUIRE(loops.size() == 2);
    CHECK(area_of(loops[0]) * area_of(loops[1]) < 0);
}

TEST_CASE("contours: a saddle's four corners make loops that close and never cross", "[figure]") {
    const CurvatureMap map{1.0, 2, {1, 0, 0, 1}};
    CHECK(loops_at_level(map, 0.25).size() == 1);  // joined: the mean is above
    CHECK(loops_at_level(map, 0.75).size() == 2);  // parted: below
}

TEST_CASE("contours: a level above all is nowhere, one below all is the map's rim", "[figure]") {
    const CurvatureMap map = map_of(11, [](double x, double y) { return x + y; });
    CHECK(loops_at_level(map, 3).empty());
    REQUIRE(loops_at_level(map, -3).size() == 1);
    CHECK_THAT(std::abs(area_of(loops_at_level(map, -3).front())), WithinRel(4.0, 0.01));
}

TEST_CASE("map: values stand where they belong, and between them they run straight", "[figure]") {
    const CurvatureMap map = map_of(5, [](double x, double y) { return 40 + x + 10 * y; });
    CHECK(map.at(4, 0) == 31.0);
    CHECK_THAT(map.between({0.3, -0.9}), WithinAbs(31.3, 1e-12));
    CHECK_THAT(map.between({1.0, 1.0}), WithinAbs(51.0, 1e-12));
}
