// The seal by the clock; see plots.h.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "view/pen.h"
#include "view/plots.h"

namespace graftwright {
namespace {

constexpr int kMostCircles = 4;
constexpr double kRoom = 24.0;
constexpr double kMostShown_mmHg = 90.0;  // a bite's own place may press far harder; cut off there

}  // namespace

std::optional<LeakClock> leak_clock(const Scenario& scenario, const ClosureMeasures& measures) {
    if (!measures.status.converged || measures.profile.empty()) return std::nullopt;
    LeakClock clock;
    double largest = std::max(scenario.eye.pressure_mmHg, scenario.pass.leak_pressure_mmHg.value_or(0.0));
    for (const SealPlace& place : measures.profile) {
        clock.seal.push_back({place.deg, place.seal_mmHg});
        largest = std::max(largest, place.seal_mmHg);
    }
    std::sort(clock.seal.begin(), clock.seal.end(), [](Point a, Point b) { return a.x < b.x; });
    clock.eye_mmHg = scenario.eye.pressure_mmHg;
    clock.asked_mmHg = scenario.pass.leak_pressure_mmHg;
    clock.leak_mmHg = measures.wound.leak_pressure_mmHg;
    clock.weakest_deg = measures.wound.weakest_deg;
    clock.capped = measures.wound.capped;
    largest = std::min(1.05 * largest, kMostShown_mmHg);
    clock.step_mmHg = round_step(largest, kMostCircles);
    clock.full_mmHg = raised_to(largest, clock.step_mmHg);
    return clock;
}

void draw_leak_clock(const Ui& ui, const Rect& place, const LeakClock& clock) {
    const PlotPen pen(ui);
    const PolarFrame frame{{place.x + place.width / 2.0, place.y + place.height / 2.0},
                           std::min(place.width, place.height) / 2.0 - kRoom,
                           clock.full_mmHg};
    const auto shown = [&](double mmHg) { return std::clamp(mmHg, 0.0, clock.full_mmHg); };
    // Pressed: filled in the accent; below the eye's own pressure: amber, and it is the dent one sees.
    // Soft edges between the sectors would show as spokes.
    const ImDrawListFlags soft = pen.list().Flags;
    pen.list().Flags &= ~ImDrawListFlags_AntiAliasedFill;
    for (std::size_t i = 0; i < clock.seal.size(); ++i) {
        const Point a = clock.seal[i], b = clock.seal[(i + 1) % clock.seal.size()];
        const bool holds = std::min(a.y, b.y) >= clock.eye_mmHg;
        pen.list().AddTriangleFilled(pen.on_window(frame.centre), pen.on_window(frame.place(a.x, shown(a.y))),
                                     pen.on_window(frame.place(b.x, shown(b.y))),
                                     holds ? ink(tone::accent_deep, 0.75F) : ink(tone::warning, 0.75F));
    }
    pen.list().Flags = soft;
    for (double ring = clock.step_mmHg; ring <= clock.full_mmHg + 1e-9; ring += clock.step_mmHg)
        pen.circle(frame.centre, frame.radius * ring / clock.full_mmHg, ink(tone::line), 1.0);
    std::vector<Point> outline;
    for (const Point& point : clock.seal) outline.push_back(frame.place(point.x, shown(point.y)));
    pen.way(outline, ink(tone::accent), 2.0, true);
    pen.circle(frame.centre, frame.radius * clock.eye_mmHg / clock.full_mmHg, ink(tone::text), 1.6);
    if (clock.asked_mmHg && *clock.asked_mmHg <= clock.full_mmHg)
        pen.dashed_circle(frame.centre, frame.radius * *clock.asked_mmHg / clock.full_mmHg, ink(tone::text), 1.6);

    for (int hour = 1; hour <= 12; ++hour) {
        const double deg = hour_deg(hour);
        pen.line(frame.place(deg, clock.full_mmHg * 0.97), frame.place(deg, clock.full_mmHg), ink(tone::quiet), 1.4);
        const bool quarter = hour % 3 == 0;
        pen.words(frame.place(deg, clock.full_mmHg * (1.0 + 13.0 / frame.radius)), fmt::format("{}", hour),
                  quarter ? Face::strong : Face::small, quarter ? ink(tone::text) : ink(tone::quiet), WordsAt::middle);
    }
    for (double ring = clock.step_mmHg; ring <= clock.full_mmHg + 1e-9; ring += clock.step_mmHg)
        pen.words(frame.place(75.0, ring), fmt::format("{:g}", ring), Face::small, ink(tone::quiet), WordsAt::middle,
                  true);
    // Where it opens first: an arrow from outside.
    if (!clock.capped) {
        const double tip = clock.full_mmHg * 0.80, tail = clock.full_mmHg * 0.97;
        pen.arrow(frame.place(clock.weakest_deg, tail), frame.place(clock.weakest_deg, tip), ink(tone::warning), 3.0,
                  12.0);
    }
}

}  // namespace graftwright
