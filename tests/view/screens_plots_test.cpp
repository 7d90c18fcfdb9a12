// Where things go in the debrief's plots: known geometry, no pictures.
#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

#include "base/units.h"
#include "screens_fixture.h"
#include "view/debrief/debrief_screen.h"
#include "view/debrief/plots.h"
#include "view/kit/contour.h"
#include "view/window/level_words.h"

namespace graftwright {
namespace {

// Rounding of the map's floats and of sums of a few of them.
constexpr double kRounding = 1e-5;

SurfaceMap map_of(int n, double reach_mm, double (*value)(double x, double y)) {
    SurfaceMap map{n, reach_mm, {}};
    for (int j = 0; j < n; ++j) {
        for (int i = 0; i < n; ++i) {
            const double x = reach_mm * (2.0 * i / (n - 1) - 1.0), y = reach_mm * (2.0 * j / (n - 1) - 1.0);
            map.value.push_back(std::hypot(x, y) > reach_mm + 1e-9 ? std::nanf("") : static_cast<float>(value(x, y)));
        }
    }
    return map;
}

TEST_CASE("plots: a steep axis stands at twice its angle, as long as its cylinder", "[view][geometry]") {
    // Steep at 45°: the y axis; at 90°: to the left; lengths are cylinders, not half of them.
    const Point at_45 = double_angle_arrow({40.0, 0.0, 1.5}), at_90 = double_angle_arrow({40.0, -0.5, 0.0});
    CHECK(std::abs(at_45.x) < kRounding);
    CHECK(at_45.y == Approx(3.0));
    CHECK(at_90.x == Approx(-1.0));
    CHECK(cylinder_words(at_45) == "3.0 D @ 45°");
    CHECK(cylinder_words(at_90) == "1.0 D @ 90°");
    // An axis a hair below 180 is written as 0.
    CHECK(cylinder_words({2.0, -0.001}) == "2.0 D @ 0°");
}

TEST_CASE("plots: 12 o'clock is up and 3 o'clock to the right, as an examiner sees them", "[view][geometry]") {
    const PolarFrame frame{{200.0, 100.0}, 50.0, 10.0};
    CHECK(frame.place(hour_deg(12), 10.0).y == Approx(50.0));
    CHECK(frame.place(hour_deg(3), 10.0).x == Approx(250.0));
    CHECK(frame.place(hour_deg(9), 5.0).x == Approx(175.0));
    CHECK(frame.place_xy(0.0, -10.0).y == Approx(150.0));
    CHECK(hour_deg(6) == Approx(270.0));
}

TEST_CASE("plots: steps are round and divide the whole", "[view][geometry]") {
    CHECK(round_step(8.3, 5) == Approx(2.0));
    CHECK(round_step(3.4, 5) == Approx(1.0));
    CHECK(round_step(40.0, 5) == Approx(10.0));
    CHECK(round_step(0.05, 5) == Approx(0.01));
    CHECK(raised_to(8.3, 2.0) == Approx(10.0));
    CHECK(raised_to(8.0, 2.0) == Approx(8.0));
}

TEST_CASE("plots: the contour of a cone is a circle, closed, and where it should be", "[view][geometry]") {
    const SurfaceMap cone = map_of(81, 3.0, [](double x, double y) { return std::hypot(x, y); });
    const auto lines = contours(cone, 2.0);
    REQUIRE(lines.size() == 1);
    CHECK(lines[0].closed);
    // Chords of cells 0.075 mm wide stay within their sagitta, h²/8r, of the circle; the cone's own
    // bend between grid points adds as much again.
    constexpr double kSagitta_mm = 2.0 * 0.075 * 0.075 / (8.0 * 2.0);
    for (const Point& point : lines[0].line) CHECK(std::abs(std::hypot(point.x, point.y) - 2.0) < kSagitta_mm);
}

TEST_CASE("plots: the contour of a slope is one open line from rim to rim, and a saddle gives two",
          "[view][geometry]") {
    const SurfaceMap slope = map_of(41, 3.0, [](double x, double) { return x; });
    const auto line = contours(slope, 0.51);
    REQUIRE(line.size() == 1);
    CHECK_FALSE(line[0].closed);
    for (const Point& point : line[0].line) CHECK(point.x == Approx(0.51).margin(kRounding));
    CHECK(std::abs(line[0].line.front().y - line[0].line.back().y) > 5.0);

    const SurfaceMap saddle = map_of(41, 3.0, [](double x, double y) { return x * y; });
    CHECK(contours(saddle, 0.5).size() == 2);
    CHECK(contours(saddle, 100.0).empty());
}

TEST_CASE("plots: the colour scale rises in lightness all the way", "[view][colour]") {
    constexpr int kSteps = 60;  // fewer than its shades, so that eight bits a channel can't turn a step round
    double last = lightness(power_tone(-1.0));
    CHECK(last < 40.0);
    for (int i = 1; i <= kSteps; ++i) {
        const double now = lightness(power_tone(static_cast<double>(i) / kSteps));
        CHECK(now > last);
        last = now;
    }
    CHECK(last > 85.0);
    CHECK(lightness({255, 255, 255}) == Approx(100.0).margin(0.01));
}

TEST_CASE("plots: the map's picture has 12 o'clock on top and is clear outside the donor", "[view][colour]") {
    const SurfaceMap map = map_of(41, 3.0, [](double x, double y) { return 40.0 + y + 0.1 * x; });
    const PowerRange range = common_range({&map});
    const sf::Image image = power_image(map, range, 120);
    const auto light = [&](unsigned x, unsigned y) {
        const sf::Color c = image.getPixel(x, y);
        return lightness({c.r, c.g, c.b});
    };
    CHECK(light(60, 20) > light(60, 100) + 20.0);
    CHECK(image.getPixel(2, 2).a == 0);
    CHECK(image.getPixel(60, 60).a == 255);
    CHECK(map_radius_mm(map) == Approx(3.0));
    CHECK(range.low_D <= 37.5);
    CHECK(range.high_D >= 42.5);
    // Maps without values have no say and do no harm.
    CHECK(common_range({nullptr}).high_D > common_range({nullptr}).low_D);
}

TEST_CASE("plots: ideal, shares and what is left over make the attempt", "[view][geometry]") {
    const Snapshot& shot = scored("second_cardinal_off");
    const Scorecard& card = shot.debrief->card;
    const auto data = double_angle(card);
    REQUIRE(data);
    CHECK(data->bites.size() == 16);
    REQUIRE(card.interactions);
    const Point left = double_angle_arrow(*card.interactions);
    CHECK(data->interactions().x == Approx(left.x).margin(kRounding));
    CHECK(data->interactions().y == Approx(left.y).margin(kRounding));
    CHECK(std::hypot(data->attempt.x, data->attempt.y) == Approx(card.attempt.keratometry->cylinder_D));
    for (const DoubleAngle::Arrow& arrow : data->bites) {
        CHECK(std::hypot(arrow.tip.x, arrow.tip.y) == Approx(arrow.size_D));
        CHECK(arrow.size_D <= data->full_D);
    }
    CHECK_FALSE(double_angle(without_closure().debrief->card));
}

TEST_CASE("plots: the seal's clock goes by the square root and holds every place", "[view][geometry]") {
    const Snapshot& shot = scored("second_cardinal_off");
    const auto clock = leak_clock(*shot.scenario, shot.debrief->card.attempt);
    REQUIRE(clock);
    for (std::size_t i = 0; i < clock->seal.size(); ++i) {
        CHECK(clock->seal[i].y <= clock->full_mmHg);
        if (i > 0) CHECK(clock->seal[i].x > clock->seal[i - 1].x);
    }
    CHECK(clock->share(clock->full_mmHg / 4.0) == Approx(0.5));
    CHECK(clock->share(-1.0) == 0.0);
    CHECK(clock->asked_mmHg.value_or(0.0) == Approx(30.0));
    // The arrow stands where the wound opens first: here, where it also presses least.
    const Snapshot& tight = scored("tight_pair");
    const auto other = leak_clock(*tight.scenario, tight.debrief->card.attempt);
    REQUIRE(other);
    const auto weakest =
        std::min_element(other->seal.begin(), other->seal.end(), [](Point a, Point b) { return a.y < b.y; });
    CHECK(std::abs(std::remainder(weakest->x - other->weakest_deg, 360.0)) < 12.0);
    CHECK_FALSE(leak_clock(*shot.scenario, without_closure().debrief->card.attempt));
}

TEST_CASE("plots: the clock's rim has every single bite, and a running thread from each exit to the next entry",
          "[view][geometry][runs]") {
    Attempt attempt;
    for (const double deg : {90.0, 270.0, 0.0}) attempt.bites.emplace_back().host_deg = deg;
    attempt.bites[1].removed = true;
    attempt.runs.resize(1);
    for (const double deg : {45.0, 135.0, 300.0}) attempt.runs[0].bites.emplace_back().host_deg = deg;
    LeakClock clock;
    mark_bites(clock, attempt);
    CHECK(clock.bites_deg == std::vector<double>{90.0, 0.0});
    REQUIRE(clock.spans.size() == 3);
    CHECK(clock.spans[0].from_deg == 45.0);
    CHECK(clock.spans[0].to_deg == 135.0);
    CHECK_FALSE(clock.spans[1].knot);
    CHECK(clock.spans[2].from_deg == 300.0);
    CHECK(clock.spans[2].to_deg == 45.0);
    CHECK(clock.spans[2].knot);
}

TEST_CASE("level: what it asks names its threads, and what is in place already", "[view][words][runs]") {
    Scenario level;
    level.task.bites = 16;
    CHECK(task_words(level) == "16 bites, interrupted");
    level.task.pattern = Pattern::running;
    CHECK(task_words(level) == "16 bites, one running thread");
    level.task.pattern = Pattern::double_running;
    CHECK(task_words(level) == "16 bites, two running threads");
    level.task.pattern = Pattern::combined;
    level.start.bites.resize(8);
    CHECK(task_words(level) == "16 bites, single ones and a running thread, 8 already in place");
    level.start.runs.resize(1);
    level.task.time_limit_s = 1200.0;
    CHECK(task_words(level) ==
          "16 bites, single ones and a running thread, 8 and a running thread already in place, within 20 minutes");
}

TEST_CASE("plots: a bite's way goes from its entry by both depths to its exit", "[view][geometry]") {
    BitePath bite;
    bite.graft_bite_mm = 1.0;
    bite.host_bite_mm = 1.25;
    bite.graft_depth_um = 500.0;
    bite.host_depth_um = 560.0;
    const std::vector<Point> way = bite_section(bite);
    CHECK(way.front() == Point{-1.0, 0.0});
    CHECK(way.back().x == Approx(1.25));
    CHECK(std::abs(way.back().y) < kRounding);
    const auto deepest = std::min_element(way.begin(), way.end(), [](Point a, Point b) { return a.y < b.y; });
    CHECK(deepest->y == Approx(-0.56));
    CHECK(std::abs(deepest->x) < kRounding);
}

TEST_CASE("debrief: flags are told in words", "[view][words]") {
    CHECK(flags_words({"not-radial", "off-slot"}) == "not radial, off its mark");
}

}  // namespace
}  // namespace graftwright
