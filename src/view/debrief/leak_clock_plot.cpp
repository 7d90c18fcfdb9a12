// The seal by the clock; see plots.h.
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "view/debrief/plots.h"
#include "view/kit/pen.h"

namespace graftwright {
namespace {

constexpr double kRoom = 24.0;
// Circles at these parts of the outermost one's pressure; by the square root evenly apart.
constexpr std::array<double, 3> kCircles{1.0 / 16.0, 1.0 / 4.0, 1.0};
constexpr double kLeastFull_mmHg = 25.0;
constexpr double kDonorEnd = 0.93;  // of a bite at the rim, in radii; its host end is the rim itself

// The rim is not to scale, so that a straight thread is an even slant within it.
void draw_spans(const PlotPen& pen, const PolarFrame& frame, const std::vector<LeakClock::Span>& spans) {
    constexpr int kPieces = 16;
    for (const LeakClock::Span& span : spans) {
        const double turn = std::remainder(span.to_deg - span.from_deg, 360.0);
        std::vector<Point> way;
        for (int i = 0; i <= kPieces; ++i) {
            const double along = static_cast<double>(i) / kPieces;
            way.push_back(frame.place(span.from_deg + turn * along, 1.0 + (kDonorEnd - 1.0) * along));
        }
        // Fainter where it lies deep in the tissue.
        pen.line(frame.place(span.from_deg, kDonorEnd), frame.place(span.from_deg, 1.0), ink(tone::text, 0.45F), 1.4);
        pen.way(way, ink(tone::text), 1.8);
        // Halfway along the last span often lies another thread's bite.
        if (span.knot) pen.disc(way[kPieces / 3], 4.2, ink(tone::text));
    }
}

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
    clock.full_mmHg = kLeastFull_mmHg;
    while (clock.full_mmHg < largest) clock.full_mmHg *= 2.0;
    return clock;
}

void mark_bites(LeakClock& clock, const Attempt& attempt) {
    const std::vector<OrderedBite> bites = bites_in_order(attempt);
    for (const OrderedBite& bite : bites)
        if (!bite.removed && !bite.run) clock.bites_deg.push_back(bite.host_deg);
    for (const RunSpan& span : run_spans(attempt.bites.size(), attempt.runs))
        clock.spans.push_back({bites[span.from].host_deg, bites[span.to].host_deg, span.knot});
}

double LeakClock::share(double mmHg) const { return std::sqrt(std::clamp(mmHg / full_mmHg, 0.0, 1.0)); }

void draw_leak_clock(const Ui& ui, const Rect& place, const LeakClock& clock) {
    const PlotPen pen(ui);
    const PolarFrame frame{{place.x + place.width / 2.0, place.y + place.height / 2.0},
                           std::min(place.width, place.height) / 2.0 - kRoom,
                           1.0};
    const auto at = [&](Point seal) { return frame.place(seal.x, clock.share(seal.y)); };
    // Pressed: filled in the accent; below the eye's own pressure: amber, and it is the dent one sees.
    // Soft edges between the sectors would show as spokes.
    const ImDrawListFlags soft = pen.list().Flags;
    pen.list().Flags &= ~ImDrawListFlags_AntiAliasedFill;
    for (std::size_t i = 0; i < clock.seal.size(); ++i) {
        const Point a = clock.seal[i], b = clock.seal[(i + 1) % clock.seal.size()];
        const bool holds = std::min(a.y, b.y) >= clock.eye_mmHg;
        pen.list().AddTriangleFilled(pen.on_window(frame.centre), pen.on_window(at(a)), pen.on_window(at(b)),
                                     holds ? ink(tone::accent_deep, 0.75F) : ink(tone::warning, 0.75F));
    }
    pen.list().Flags = soft;
    for (const double part : kCircles)
        pen.circle(frame.centre, frame.radius * clock.share(part * clock.full_mmHg), ink(tone::line), 1.0);
    std::vector<Point> outline;
    for (const Point& point : clock.seal) outline.push_back(at(point));
    pen.way(outline, ink(tone::accent), 2.0, true);
    pen.circle(frame.centre, frame.radius * clock.share(clock.eye_mmHg), ink(tone::text), 1.6);
    if (clock.asked_mmHg && *clock.asked_mmHg <= clock.full_mmHg)
        pen.dashed_circle(frame.centre, frame.radius * clock.share(*clock.asked_mmHg), ink(tone::text), 1.6);

    for (int hour = 1; hour <= 12; ++hour) {
        const double deg = hour_deg(hour);
        pen.line(frame.place(deg, 0.97), frame.place(deg, 1.0), ink(tone::quiet), 1.4);
        const bool quarter = hour % 3 == 0;
        pen.words(frame.place(deg, 1.0 + 13.0 / frame.radius), fmt::format("{}", hour),
                  quarter ? Face::strong : Face::small, quarter ? ink(tone::text) : ink(tone::quiet), WordsAt::middle);
    }
    for (const double part : kCircles) {
        // The outermost steps aside for a running thread.
        const double at_rim = clock.spans.empty() || part < 1.0 ? 1.0 : 0.87;
        pen.words(frame.place(75.0, at_rim * std::sqrt(part)), fmt::format("{:g}", part * clock.full_mmHg), Face::small,
                  ink(tone::text), WordsAt::middle, true);
    }
    for (const double deg : clock.bites_deg)
        pen.line(frame.place(deg, kDonorEnd), frame.place(deg, 1.0), ink(tone::text), 2.2);
    draw_spans(pen, frame, clock.spans);
    // Where it opens first: an arrow from outside.
    if (!clock.capped) {
        const double tip = 0.74, tail = 0.95;
        pen.arrow(frame.place(clock.weakest_deg, tail), frame.place(clock.weakest_deg, tip), ink(tone::warning), 3.0,
                  12.0);
    }
}

}  // namespace graftwright
