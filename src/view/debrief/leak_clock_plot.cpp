// The seal by the clock; see plots.h.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/angle.h"
#include "view/debrief/plots.h"
#include "view/kit/pen.h"

namespace graftwright {
namespace {

constexpr double kClockRoom = 24.0;
constexpr double kDonorEnd = 0.93;  // of a bite at the rim, in radii; its host end is the rim itself

void draw_spans(const PlotPen& pen, const PolarFrame& frame, const std::vector<LeakClock::Span>& spans) {
    for (const LeakClock::Span& span : spans) {
        std::vector<Point> way;
        for (const SlantPoint& at : slant(span))
            way.push_back(frame.place(at.deg, 1.0 + (kDonorEnd - 1.0) * at.inward));
        // Fainter where it lies deep in the tissue.
        pen.line(frame.place(span.from_deg, kDonorEnd), frame.place(span.from_deg, 1.0), ink(tone::text, 0.45F), 1.4);
        pen.way(way, ink(tone::text), 1.8);
        if (span.knot) pen.disc(way[kKnotAlong], 4.2, ink(tone::text));
    }
}

}  // namespace

void draw_leak_clock(const Ui& ui, const Rect& place, const LeakClock& clock) {
    const PlotPen pen(ui);
    const PolarFrame frame{{place.x + place.width / 2.0, place.y + place.height / 2.0},
                           std::min(place.width, place.height) / 2.0 - kClockRoom,
                           1.0};
    const auto at = [&](const SealPlace& seal) { return frame.place(seal.deg, clock.share(seal.seal_mmHg)); };
    // Pressed: filled in the accent; below the eye's own pressure: amber, and it is the dent one sees.
    // Soft edges between the sectors would show as spokes.
    const ImDrawListFlags soft = pen.list().Flags;
    pen.list().Flags &= ~ImDrawListFlags_AntiAliasedFill;
    for (std::size_t i = 0; i < clock.seal.size(); ++i) {
        const SealPlace &a = clock.seal[i], &b = clock.seal[(i + 1) % clock.seal.size()];
        const bool holds = std::min(a.seal_mmHg, b.seal_mmHg) >= clock.eye_mmHg;
        pen.list().AddTriangleFilled(pen.on_window(frame.centre), pen.on_window(at(a)), pen.on_window(at(b)),
                                     holds ? ink(tone::accent_deep, 0.75F) : ink(tone::warning, 0.75F));
    }
    pen.list().Flags = soft;
    for (const double part : LeakClock::kCircles)
        pen.circle(frame.centre, frame.radius * clock.share(part * clock.full_mmHg), ink(tone::line), 1.0);
    std::vector<Point> outline;
    for (const SealPlace& pressed : clock.seal) outline.push_back(at(pressed));
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
    for (const double part : LeakClock::kCircles) {
        // The outermost steps aside for a running thread.
        const double at_rim = clock.spans.empty() || part < 1.0 ? 1.0 : 0.87;
        pen.words(frame.place(75.0, at_rim * std::sqrt(part)), fmt::format("{:g}", part * clock.full_mmHg), Face::small,
                  ink(tone::text), WordsAt::middle, true);
    }
    for (const LeakClock::Bite& bite : clock.bites) {
        if (!bite.run) pen.line(frame.place(bite.deg, kDonorEnd), frame.place(bite.deg, 1.0), ink(tone::text), 2.2);
    }
    draw_spans(pen, frame, clock.spans);
    // Where it opens first: an arrow from outside.
    if (!clock.test.capped) {
        const double tip = 0.74, tail = 0.95;
        pen.arrow(frame.place(clock.test.weakest_deg, tail), frame.place(clock.test.weakest_deg, tip),
                  ink(tone::warning), 3.0, 12.0);
    }
}

}  // namespace graftwright
