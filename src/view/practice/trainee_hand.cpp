// Hand: every bite of the latest attempts as a dot. Where a hand's habits show before any score does.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/words.h"
#include "score/bite_metrics.h"
#include "view/kit/words.h"
#include "view/practice/trainee_plots.h"
#include "view/practice/trainee_screen.h"

namespace graftwright {
namespace {

constexpr double kBetween = 12.0, kWordsHeight = 106.0;
constexpr double kHead = 58.0, kLeftRoom = 58.0, kFootRoom = 54.0;

// A dot a bite: the latest attempt's stand out, and a cross is a bite that broke a limit.
void draw_spot(const PlotPen& pen, Point at, const HandSpot& spot, std::size_t latest) {
    const bool now = spot.attempt == latest;
    if (spot.flagged)
        draw_cross(pen, at, now ? 4.5 : 3.5, ink(tone::warning, now ? 1.0F : 0.75F), now ? 2.2 : 1.5);
    else if (now)
        pen.disc(at, 4.2, ink(tone::accent));
    else
        pen.circle(at, 3.0, ink(tone::quiet, 0.8F), 1.2);
}

struct Panel {
    const char *title, *across, *upward;
};

PlotArea begin_plot(const PlotPen& pen, const Rect& place, const Panel& panel, const AxisRange& range) {
    pen.words({place.x + 16.0, place.y + 20.0}, panel.title, Face::strong, ink(tone::text));
    pen.words({place.x + 16.0, place.y + 42.0}, panel.upward, Face::small, ink(tone::quiet));
    const PlotArea area{{place.x + kLeftRoom, place.y + kHead + 8.0, place.width - kLeftRoom - 22.0,
                         place.height - kHead - 8.0 - kFootRoom},
                        0.0,
                        1.0,
                        range};
    pen.words({area.place.x + area.place.width / 2.0, place.y + place.height - 14.0}, panel.across, Face::small,
              ink(tone::quiet), WordsAt::middle);
    return area;
}

// Between two values, over the whole width.
void draw_band(const PlotPen& pen, const PlotArea& area, double low, double high) {
    const double top = area.at(0.0, high).y, bottom = area.at(0.0, low).y;
    pen.box({area.place.x, top, area.place.width, bottom - top}, ink(tone::accent_deep, 0.45F));
}

template <typename Value>
std::pair<double, double> extent(const TraineePage& page, const Value& value, double low, double high) {
    for (const HandSpot& spot : page.spots) {
        if (const std::optional<double> v = value(spot)) {
            low = std::min(low, *v);
            high = std::max(high, *v);
        }
    }
    return {low, high};
}

void draw_depth(Ui& ui, const Rect& place, const TraineePage& page, std::size_t latest) {
    ui.begin_panel("hand depth", place, tone::panel, 0.0, false);
    const PlotPen pen(ui);
    const auto donor = [](const HandSpot& spot) { return spot.depth_fraction_graft; };
    const auto host = [](const HandSpot& spot) { return spot.depth_fraction_host; };
    const auto [low_x, high_x] = extent(page, donor, 0.75, 1.0);
    const auto [low, high] = extent(page, host, low_x, high_x);
    const AxisRange range = round_range(low, high, 5);
    PlotArea area =
        begin_plot(pen, place, {"Depth", "donor's side, of its thickness", "rim's side, of its thickness"}, range);
    area.x_low = range.low;
    area.x_high = range.high;
    const Point corner = area.at(kShallowest.value, kDeepest.value), other = area.at(kDeepest.value, kShallowest.value);
    pen.box({corner.x, corner.y, other.x - corner.x, other.y - corner.y}, ink(tone::accent_deep, 0.6F));
    draw_value_lines(pen, area, decimals_of(range.step));
    for (double x = range.low; x < range.high + 0.5 * range.step; x += range.step)
        pen.words({area.at(x, range.low).x, area.place.y + area.place.height + 16.0},
                  words::number(x, decimals_of(range.step)), Face::small, ink(tone::quiet), WordsAt::middle);
    pen.dashes(area.at(range.low, range.low), area.at(range.high, range.high), ink(tone::quiet, 0.6F), 1.2);
    for (const HandSpot& spot : page.spots)
        if (spot.depth_fraction_graft && spot.depth_fraction_host)
            draw_spot(pen, area.at(*spot.depth_fraction_graft, *spot.depth_fraction_host), spot, latest);
    ui.end_panel();
}

void write_order(const PlotPen& pen, const PlotArea& area) {
    const double y = area.place.y + area.place.height + 16.0;
    pen.words({area.place.x, y}, "first tied", Face::small, ink(tone::quiet));
    pen.words({area.place.x + area.place.width, y}, "last tied", Face::small, ink(tone::quiet), WordsAt::right);
}

void draw_spacing(Ui& ui, const Rect& place, const TraineePage& page, std::size_t latest) {
    ui.begin_panel("hand spacing", place, tone::panel, 0.0, false);
    const PlotPen pen(ui);
    const auto value = [](const HandSpot& spot) { return spot.spacing_error_deg; };
    const auto [low, high] = extent(page, value, -6.0, 6.0);
    const double reach = std::max(-low, high);
    const PlotArea area =
        begin_plot(pen, place, {"Spacing", "order of tying", "degrees off its mark, + counter-clockwise"},
                   round_range(-reach, reach, 6));
    draw_band(pen, area, -kSpacingError_deg.value, kSpacingError_deg.value);
    draw_value_lines(pen, area, decimals_of(area.y.step));
    write_order(pen, area);
    for (const HandSpot& spot : page.spots)
        if (spot.spacing_error_deg) draw_spot(pen, area.at(spot.order, *spot.spacing_error_deg), spot, latest);
    ui.end_panel();
}

void draw_tension(Ui& ui, const Rect& place, const TraineePage& page, std::size_t latest) {
    ui.begin_panel("hand tension", place, tone::panel, 0.0, false);
    const PlotPen pen(ui);
    const auto value = [](const HandSpot& spot) { return spot.tension_mN; };
    const auto [low, high] = extent(page, value, 0.0, 20.0);
    const PlotArea area =
        begin_plot(pen, place, {"Tension", "order of tying", "mN in the finished closure, chamber filled"},
                   round_range(low, high, 6));
    const HandSpread& spread = page.tension_mN;
    if (spread.mean) draw_band(pen, area, *spread.mean - *spread.deviation, *spread.mean + *spread.deviation);
    draw_value_lines(pen, area, decimals_of(area.y.step));
    write_order(pen, area);
    for (const HandSpot& spot : page.spots)
        if (spot.tension_mN) draw_spot(pen, area.at(spot.order, *spot.tension_mN), spot, latest);
    if (spread.n == 0)
        pen.words(area.place.centre(), "no closure found its balance yet", Face::small, ink(tone::quiet),
                  WordsAt::middle);
    ui.end_panel();
}

std::string spread_words(const char* what, const HandSpread& spread, int decimals, const char* unit) {
    if (spread.n == 0) return fmt::format("{}: none yet", what);
    return fmt::format("{} {} ± {}{}", what, shown_value(spread.mean, decimals),
                       shown_value(spread.deviation, decimals), unit);
}

// What the three pictures say in numbers, and what the signs mean.
void write_words(Ui& ui, const Rect& place, const TraineePage& page) {
    ui.begin_panel("hand words", place, tone::panel, 16.0, false);
    const PlotPen pen(ui);
    const double each = (place.width - 2.0 * kBetween) / 3.0, y = place.y + 22.0;
    const auto column = [&](int i, const std::string& first, const std::string& second) {
        const double x = place.x + 16.0 + i * (each + kBetween);
        pen.words({x, y}, first, Face::body, ink(tone::text));
        pen.words({x, y + 24.0}, second, Face::small, ink(tone::quiet));
    };
    column(0, spread_words("donor", page.depth_graft, 2, "") + ", " + spread_words("rim", page.depth_host, 2, ""),
           fmt::format("aim (tinted): {:g} to {:g} on both sides", kShallowest.value, kDeepest.value));
    column(1, spread_words("off the mark", page.spacing_deg, 1, "°"),
           fmt::format("aim (tinted): within {:g}°", kSpacingError_deg.value));
    column(2, spread_words("tension", page.tension_mN, 1, " mN"), "tinted: mean ± standard deviation");

    const std::size_t attempts = std::min(page.attempts.size(), page.options.level_attempts);
    double x = place.x + 16.0;
    const double low = place.y + place.height - 24.0;
    const auto say = [&](const std::string& words) {
        pen.words({x, low}, words, Face::small, ink(tone::text));
        x += ui.text_width(words, Face::small) + 22.0;
    };
    pen.disc({x + 4.0, low}, 4.2, ink(tone::accent));
    x += 15.0;
    say("latest attempt");
    pen.circle({x + 4.0, low}, 3.0, ink(tone::quiet), 1.2);
    x += 14.0;
    say("the ones before");
    draw_cross(pen, {x + 4.0, low}, 4.5, ink(tone::warning), 2.2);
    x += 15.0;
    say("over one of the hand's limits, whichever");
    pen.words({place.x + place.width - 16.0, low},
              fmt::format("{} of {}; mean ± standard deviation", counted(page.spots.size(), "bite"),
                          counted(attempts, "attempt")),
              Face::small, ink(tone::quiet), WordsAt::right);
    ui.end_panel();
}

}  // namespace

void draw_hand(Ui& ui, const Rect& place, const TraineePage& page) {
    const double each = (place.width - 2.0 * kBetween) / 3.0, height = place.height - kWordsHeight - kBetween;
    const std::size_t latest = page.attempts.empty() ? 0 : page.attempts.size() - 1;
    draw_depth(ui, {place.x, place.y, each, height}, page, latest);
    draw_spacing(ui, {place.x + each + kBetween, place.y, each, height}, page, latest);
    draw_tension(ui, {place.x + 2.0 * (each + kBetween), place.y, each, height}, page, latest);
    write_words(ui, {place.x, place.y + height + kBetween, place.width, kWordsHeight}, page);
}

}  // namespace graftwright
