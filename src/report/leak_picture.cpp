// The leak clock: how hard the wound presses all round, against the chamber's pressure and what was asked of it.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/angle.h"
#include "base/words.h"
#include "figure/leak_clock.h"
#include "report/closure_pictures.h"
#include "report/words.h"
#include "score/bites_in_order.h"

namespace graftwright {
namespace {

constexpr CanvasPoint kCentre{190, 205};
constexpr double kRadius = 120.0;                                               // px of the outermost gridline
constexpr double kDonorEnd = kRadius - 4, kHostEnd = kRadius + 8, kKnot = 4.2;  // px of bites at the rim
constexpr std::size_t kMostNumbered = 24;                                       // single bites; the table has them all

// Where a pressure stands, px from the middle.
double radius(const LeakClock& clock, double mmHg) { return kRadius * clock.share(mmHg); }

void draw_grid(SvgCanvas& canvas, const LeakClock& clock) {
    for (const double part : LeakClock::kCircles) {
        canvas.circle(kCentre, radius(clock, part * clock.full_mmHg), "none", {kFaintInk, 1.0, ""});
    }
    for (int hour = 1; hour <= 12; ++hour) {
        const double deg = hour_deg(hour);
        canvas.line(around(kCentre, kRadius, deg), around(kCentre, kRadius + 5, deg), {kSoftInk, 1.0, ""});
        // Beside a bite's number an hour on the same line would read as more of it.
        const CanvasPoint at = around(kCentre, kRadius + 35, deg), side = around(kCentre, kRadius + 48, deg);
        canvas.text({side.x, at.y + 4}, fmt::format("{}:00", hour),
                    {12.0, Lettering::Anchor::middle, false, kSoftInk, false});
    }
}

void draw_grid_words(SvgCanvas& canvas, const LeakClock& clock) {
    for (const double part : LeakClock::kCircles) {
        const double pressure_mmHg = part * clock.full_mmHg;
        // The outermost steps aside for a running thread.
        const double in = !clock.spans.empty() && part == 1.0 ? 17.0 : 0.0;
        const CanvasPoint at = around(kCentre, radius(clock, pressure_mmHg) - in, 15);
        canvas.text({at.x, at.y + 4}, fmt::format("{:g}", pressure_mmHg),
                    {11.5, Lettering::Anchor::middle, false, kSoftInk, true});
    }
}

// Where the seal is less than asked: a thick arc outside, so that it shows without colour.
void draw_weak_arcs(SvgCanvas& canvas, const LeakClock& clock, double asked_mmHg) {
    std::vector<CanvasPoint> arc;
    for (std::size_t j = 0; j <= clock.seal.size(); ++j) {
        const SealPlace& place = clock.seal[j % clock.seal.size()];
        if (place.seal_mmHg < asked_mmHg) {
            arc.push_back(around(kCentre, kRadius + 2, place.deg));
        } else {
            canvas.polyline(arc, {kInk, 5.0, ""});
            arc.clear();
        }
    }
    canvas.polyline(arc, {kInk, 5.0, ""});
}

// Where threads cross each other's places, a number that would stand on another's is left out: the table has
// them all.
class BiteNumbers {
  public:
    void write(SvgCanvas& canvas, std::size_t b, double deg, bool sparing) {
        const CanvasPoint at = around(kCentre, kRadius + 17, deg);
        const bool crowded = sparing && std::any_of(taken_.begin(), taken_.end(), [&](const CanvasPoint& p) {
                                 return std::abs(p.x - at.x) < 16 && std::abs(p.y - at.y) < 12;
                             });
        if (crowded) return;
        taken_.push_back(at);
        canvas.text({at.x, at.y + 4}, fmt::format("{}", b + 1),
                    {11.5, Lettering::Anchor::middle, true, kAttemptInk, false});
    }

  private:
    std::vector<CanvasPoint> taken_;
};

std::vector<CanvasPoint> way_of(const LeakClock::Span& span) {
    std::vector<CanvasPoint> way;
    for (const SlantPoint& at : slant(span)) {
        way.push_back(around(kCentre, kHostEnd + (kDonorEnd - kHostEnd) * at.inward, at.deg));
    }
    return way;
}

// Every other run paler and thinner, to be told from the one whose places it crosses.
SvgPen run_pen(std::size_t run) { return {run % 2 == 0 ? kAttemptInk : kSoftInk, run % 2 == 0 ? 2.0 : 1.4, ""}; }

void draw_bites(SvgCanvas& canvas, const LeakClock& clock, std::size_t laid) {
    // A light edge first: threads have to show on the thick rim.
    for (const bool edge : {true, false}) {
        for (const LeakClock::Span& span : clock.spans) {
            canvas.polyline(way_of(span), edge ? SvgPen{kPaper, 4.6, ""} : run_pen(span.run));
        }
    }
    BiteNumbers numbers;
    for (const LeakClock::Bite& bite : clock.bites) {
        // In the tissue a running thread lies deep: thinner than the strand of a single bite.
        canvas.line(around(kCentre, kDonorEnd, bite.deg), around(kCentre, kHostEnd, bite.deg),
                    {bite.run ? kSoftInk : kAttemptInk, bite.run ? 1.2 : 2.0, ""});
        if (clock.spans.empty() && laid > kMostNumbered) continue;
        numbers.write(canvas, bite.number, bite.deg, !clock.spans.empty());
    }
    for (const LeakClock::Span& span : clock.spans) {
        if (span.knot) canvas.circle(way_of(span)[kKnotAlong], kKnot, run_pen(span.run).colour, {kPaper, 1.2, ""});
    }
}

// In the corner that the clock leaves free.
void draw_run_key(SvgCanvas& canvas) {
    const Lettering words{11.5, Lettering::Anchor::start, false, kSoftInk, false};
    canvas.line({10, 66}, {28, 58}, run_pen(0));
    canvas.text({34, 66}, "running", words);
    canvas.circle({19, 79}, kKnot, kAttemptInk, {kPaper, 1.2, ""});
    canvas.text({34, 83}, "its knot", words);
}

}  // namespace

Picture leak_picture(const Case& what) {
    const ClosureMeasures* measures = measures_of(what, Whose::attempt);
    const std::string name = "leak-clock", title = "Leak clock";
    if (measures == nullptr) return empty_panel(name, title, why_nothing(what, Whose::attempt));
    LeakClock clock = leak_clock(what.scenario, *measures).value();  // a closure that was found has its profile
    mark_bites(clock, what.attempt);
    const WoundTest& wound = clock.test;
    const std::string opens = wound.capped ? fmt::format("holds {:g} mmHg, the highest tried; least sealed at {}",
                                                         wound.leak_pressure_mmHg, place_words(wound.weakest_deg))
                                           : fmt::format("opens at {:.1f} mmHg, first at {}, the arrow",
                                                         wound.leak_pressure_mmHg, place_words(wound.weakest_deg));
    Picture picture =
        panel(name, title,
              fmt::format("Sealing pressure around the wound at {:g} mmHg in the chamber; {}.", clock.eye_mmHg, opens));
    SvgCanvas& canvas = picture.canvas;
    canvas.text({10, 39}, fmt::format("seal in mmHg, square-root scale; dotted: the chamber's {:g}", clock.eye_mmHg),
                {12.0, Lettering::Anchor::start, false, kSoftInk, false});
    draw_grid(canvas, clock);
    std::vector<CanvasPoint> seal;
    for (const SealPlace& place : clock.seal) {
        seal.push_back(around(kCentre, radius(clock, place.seal_mmHg), place.deg));
    }
    canvas.polygon(seal, "#dbe3ee", {kAttemptInk, 2.2, ""});
    canvas.circle(kCentre, radius(clock, clock.eye_mmHg), "none", {kInk, 1.2, "2 3"});
    if (clock.asked_mmHg) {
        canvas.circle(kCentre, radius(clock, *clock.asked_mmHg), "none", {kInk, 2.4, "9 5"});
        draw_weak_arcs(canvas, clock, *clock.asked_mmHg);
    }
    draw_grid_words(canvas, clock);
    draw_bites(canvas, clock, bites_in_order(what.attempt).size());
    if (!clock.spans.empty()) draw_run_key(canvas);
    canvas.arrow(around(kCentre, 8, wound.weakest_deg), around(kCentre, kRadius - 6, wound.weakest_deg),
                 {kInk, 2.6, ""}, 14);
    const Lettering caption{12.0, Lettering::Anchor::start, false, kInk, false};
    canvas.text({10, 380}, opens, caption);
    canvas.text({10, 396},
                clock.asked_mmHg
                    ? fmt::format("dashed: {:g} mmHg asked for; thick rim: sealed by less", *clock.asked_mmHg)
                    : std::string("no pressure is asked for"),
                caption);
    canvas.text({10, 412},
                wound.leak_uL_min > 0.0 ? fmt::format("leaks {:.2f} µL/min; the chamber settles at {:.1f} mmHg",
                                                      wound.leak_uL_min, wound.settled_pressure_mmHg)
                                        : "watertight at the chamber's pressure",
                caption);
    return picture;
}

}  // namespace graftwright
