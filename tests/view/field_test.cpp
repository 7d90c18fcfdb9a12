// The field and the section under what the solver and the hand can do to them, pixel by pixel.
#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

#include "../game/game_scenes.h"
#include "base/units.h"
#include "pictures.h"

namespace graftwright {
namespace {

constexpr double kRadius_mm = 7.8;
const Point kWhole{640, 400};
constexpr double kEverywhere = 1000;

// A solved wound with one dent at an angle: the front turned down by `dent` just inside the bite's entry.
std::shared_ptr<const LiveWound> dented(double deg, double dent) {
    auto wound = std::make_shared<LiveWound>();
    wound->converged = true;
    wound->rigid = false;
    constexpr int kPoints = 33;
    wound->slope_x = wound->slope_y = {kPoints, 3.4, std::vector<float>(kPoints * kPoints)};
    for (int j = 0; j < kPoints; ++j)
        for (int i = 0; i < kPoints; ++i) {
            const double x = (2.0 * i / (kPoints - 1) - 1.0) * 3.4, y = (2.0 * j / (kPoints - 1) - 1.0) * 3.4;
            const double r = std::hypot(x, y), height = std::sqrt(kRadius_mm * kRadius_mm - r * r);
            const double away = std::remainder(std::atan2(y, x) - rad_from_deg(deg), 2.0 * kPi) * r;
            const double down = dent * std::exp(-away * away / 0.2 - (r - 2.8) * (r - 2.8) / 0.2);
            const auto at = static_cast<std::size_t>(j * kPoints + i);
            wound->slope_x.value[at] = static_cast<float>(-x / height - (r > 0.0 ? down * x / r : 0.0));
            wound->slope_y.value[at] = static_cast<float>(-y / height - (r > 0.0 ? down * y / r : 0.0));
        }
    return wound;
}

LaidBite bite_at(double deg) {
    const auto at = [deg](double r) { return Point{r * std::cos(rad_from_deg(deg)), r * std::sin(rad_from_deg(deg))}; };
    LaidBite laid;
    laid.bite.host_deg = laid.bite.graft_deg = deg;
    laid.entry = at(2.75);
    laid.donor_edge = at(3.87);
    laid.host_edge = at(3.88);
    laid.exit = at(4.98);
    laid.tension_mN = 15.0;
    return laid;
}

TEST_CASE("view: a picture refined after motion is the picture drawn at once", "[view]") {
    Game game = scenes::new_game();
    Snapshot shot = game.snapshot();
    GameView view;
    (void)picture_of(view, shot);
    shot.donor.x = 0.2;
    CHECK(changed(picture_of(view, shot), picture_of(shot), kWhole, kEverywhere) == 0);
}

TEST_CASE("view: each solved wound is seen, the next one as well as the first", "[view]") {
    Game game = scenes::new_game();
    Snapshot shot = game.snapshot();
    GameView view;
    shot.wound = dented(40.0, 0.15);
    const sf::Image first = picture_of(view, shot);
    shot.wound.reset();  // its place in memory may now be the next one's
    shot.wound = dented(200.0, 0.15);
    const sf::Image second = picture_of(view, shot);
    const Point there =
        shot.layout.field_to_canvas({2.8 * std::cos(rad_from_deg(200.0)), 2.8 * std::sin(rad_from_deg(200.0))});
    CHECK(changed(first, second, there, 30) > 60);
    CHECK(changed(second, picture_of(shot), kWhole, kEverywhere) == 0);
}

TEST_CASE("view: an over-tight bite throws folds, an even one does not", "[view]") {
    Game game = scenes::new_game();
    Snapshot shot = game.snapshot();
    shot.plane.reset();
    const Point inward =
        shot.layout.field_to_canvas({2.2 * std::cos(rad_from_deg(40.0)), 2.2 * std::sin(rad_from_deg(40.0))});
    const auto difference = [&](double dent) {  // the bite's own, beside the relief that the slopes show anyway
        shot.wound = dented(40.0, dent);
        shot.bites.clear();
        const sf::Image without = picture_of(shot);
        shot.bites.push_back(bite_at(40.0));
        return changed(without, picture_of(shot), inward, 22);
    };
    CHECK(difference(0.04) == 0);
    CHECK(difference(0.16) > 30);
}

// Two bites of a running thread and the span between them.
Snapshot with_a_run_laid(const Game& game, double tension_mN) {
    Snapshot shot = game.snapshot();
    shot.plane.reset();
    shot.bites = {bite_at(20.0), bite_at(60.0)};
    for (LaidBite& laid : shot.bites) laid.run = 0;
    LaidSpan span;
    span.to = 1;
    span.tension_mN = tension_mN;
    span.slack = tension_mN == 0.0;
    shot.spans = {span};
    return shot;
}

TEST_CASE("view: a running thread lies oblique on the surface and out of focus in its bites", "[view][run]") {
    Game game = scenes::new_game();
    const Snapshot run = with_a_run_laid(game, 12.0);
    Snapshot singles = run, bare = run;
    for (LaidBite& laid : singles.bites) laid.run.reset();
    singles.spans.clear();
    bare.bites.clear();
    bare.spans.clear();
    const sf::Image nothing = picture_of(bare), as_run = picture_of(run), as_singles = picture_of(singles);
    const Point exit = run.bites[0].exit, entry = run.bites[1].entry;
    const Point oblique = run.layout.field_to_canvas({0.5 * (exit.x + entry.x), 0.5 * (exit.y + entry.y)});
    CHECK(changed(nothing, as_run, oblique, 6) > 10);
    CHECK(changed(nothing, as_singles, oblique, 6) == 0);
    // Under the surface it is there, but fainter than a single bite's strand.
    const Point between{0.3 * run.bites[0].entry.x + 0.7 * run.bites[0].exit.x,
                        0.3 * run.bites[0].entry.y + 0.7 * run.bites[0].exit.y};
    const Point radial = run.layout.field_to_canvas(between);
    const auto darkest = [&](const sf::Image& picture) {
        int least = 1000;
        for (int dx = -3; dx <= 3; ++dx)
            for (int dy = -3; dy <= 3; ++dy) {
                const sf::Color at =
                    picture.getPixel(static_cast<unsigned>(radial.x + dx), static_cast<unsigned>(radial.y + dy));
                least = std::min(least, at.r + at.g + at.b);
            }
        return least;
    };
    CHECK(darkest(as_run) < darkest(nothing) - 15);
    CHECK(darkest(as_singles) < darkest(as_run) - 15);
}

TEST_CASE("view: a span bows where it is slack and lies straight where it is drawn", "[view][run]") {
    Game game = scenes::new_game();
    const Snapshot drawn = with_a_run_laid(game, 12.0), slack = with_a_run_laid(game, 0.0);
    Snapshot bare = drawn;
    bare.spans.clear();
    const sf::Image nothing = picture_of(bare);
    const Point exit = drawn.bites[0].exit, entry = drawn.bites[1].entry;
    const Point middle = drawn.layout.field_to_canvas({0.5 * (exit.x + entry.x), 0.5 * (exit.y + entry.y)});
    CHECK(changed(nothing, picture_of(drawn), middle, 3) > 5);
    CHECK(changed(nothing, picture_of(slack), middle, 3) == 0);
    CHECK(changed(nothing, picture_of(slack), middle, 26) > 20);
}

TEST_CASE("view: the knot of a run lies in its last span, and under the surface once it is turned in", "[view][run]") {
    Game game = scenes::new_game();
    Snapshot shot = with_a_run_laid(game, 12.0);
    const sf::Image without = picture_of(shot);
    shot.spans[0].knot = shot.spans[0].in_hand = true;
    shot.stage = Stage::bury;
    shot.tie = TieView{};
    Snapshot before = shot;
    before.spans[0].knot = false;
    const Point exit = shot.bites[0].exit, entry = shot.bites[1].entry;
    const Point middle = shot.layout.field_to_canvas({0.5 * (exit.x + entry.x), 0.5 * (exit.y + entry.y)});
    CHECK(changed(picture_of(before), picture_of(shot), middle, 10) > 10);
    Snapshot buried = with_a_run_laid(game, 12.0);
    buried.spans[0].knot = true;
    const Point donor = buried.layout.field_to_canvas(entry), host = buried.layout.field_to_canvas(exit);
    CHECK(changed(without, picture_of(buried), donor, 14) > 10);
    CHECK(changed(without, picture_of(buried), middle, 10) == 0);
    buried.spans[0].buried_in_host = true;
    CHECK(changed(without, picture_of(buried), host, 14) > 10);
}

TEST_CASE("view: iris in the wound, a lost chamber and a tip in the chamber are all seen", "[view]") {
    Game game = scenes::new_game();
    scenes::RobotHand hand(game, scenes::Device::keyboard);
    hand.ask(Command::primary);
    Snapshot shot = game.snapshot();
    REQUIRE(shot.section);
    REQUIRE(shot.plane);
    const sf::Image calm = picture_of(shot);
    Snapshot caught = shot;
    caught.iris_in_wound = true;
    CHECK(changed(calm, picture_of(caught), shot.layout.field_to_canvas(shot.plane->host_edge), 20) > 40);
    Snapshot flat = shot;
    flat.viscoelastic = 0.0;
    const Point below = shot.layout.section_to_canvas({0.8, -0.78});
    CHECK(changed(calm, picture_of(flat), below, 6) > 60);
    Snapshot through = shot;
    through.section->tip_in_chamber = true;
    const Point tip = shot.layout.section_to_canvas(shot.section->pose.at(shot.section->needle));
    CHECK(changed(calm, picture_of(through), tip, 22) > 60);
}

TEST_CASE("view: rings of a donor that nothing holds are dimmer than those of a held one", "[view]") {
    Game game = scenes::new_game();
    Snapshot shot = game.snapshot();
    auto wound = std::make_shared<LiveWound>(*dented(0.0, 0.0));
    for (int k = 0; k < 90; ++k)
        wound->rings.resize(1),
            wound->rings[0].push_back({1.2 * std::cos(kPi * k / 45.0), 1.2 * std::sin(kPi * k / 45.0)});
    shot.wound = wound;
    const auto light = [&](const sf::Image& picture) {
        double sum = 0.0;
        for (int k = 0; k < 360; ++k) {
            const Point at =
                shot.layout.field_to_canvas({1.2 * std::cos(kPi * k / 180.0), 1.2 * std::sin(kPi * k / 180.0)});
            sum += picture.getPixel(static_cast<unsigned>(at.x), static_cast<unsigned>(at.y)).g;
        }
        return sum / 360.0;
    };
    const double held = light(picture_of(shot));
    wound->rigid = true;
    CHECK(light(picture_of(shot)) < 0.7 * held);
}

}  // namespace
}  // namespace graftwright
