// Where things go in the debrief's plots: known geometry, no pictures.
#include <catch2/catch.hpp>

#include "base/angle.h"
#include "base/units.h"
#include "screens_fixture.h"
#include "view/debrief/debrief_screen.h"
#include "view/debrief/plots.h"
#include "view/window/level_words.h"

namespace graftwright {
namespace {

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
}

TEST_CASE("plots: the map's picture has 12 o'clock on top and is clear outside the donor", "[view][colour]") {
    CurvatureMap map{3.0, 41, {}};
    for (std::size_t i = 0; i < 41 * 41; ++i) map.value_D.push_back(40.0 + map.mm(static_cast<double>(i / 41)));
    const sf::Image image = power_image(map, own_scale({&map}), 120);
    CHECK(image.getPixel(60, 20).g > image.getPixel(60, 100).g + 60);  // lighter where it is steeper
    CHECK(image.getPixel(2, 2).a == 0);
    CHECK(image.getPixel(60, 60).a == 255);
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

TEST_CASE("debrief: flags are told in words", "[view][words]") {
    CHECK(flags_words({BiteFlag::not_radial, BiteFlag::off_slot}) == "not radial, off its mark");
}

}  // namespace
}  // namespace graftwright
