// The leak clock: how hard the wound presses all round, against the chamber's pressure and what was asked of it.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/closure_pictures.h"
#include "report/words.h"
#include "score/bites_in_order.h"

namespace graftwright {
namespace {

constexpr CanvasPoint kCentre{190, 205};
constexpr double kRadius = 120.0;                                               // px of the outermost gridline
constexpr double kDonorEnd = kRadius - 4, kHostEnd = kRadius + 8, kKnot = 4.2;  // px of bites at the rim
// Along the last span, from the last bite: halfway often lies another thread's bite.
constexpr double kKnotAlong = 0.3;

// Square root, so that a seal of 20 mmHg can be told from none beside one of 400.
struct PressureScale {
    double most_mmHg = 100;
    [[nodiscard]] double radius(double pressure_mmHg) const {
        return kRadius * std::sqrt(std::clamp(pressure_mmHg / most_mmHg, 0.0, 1.0));
    }
};

PressureScale scale_for(const std::vector<SealPlace>& profile, double asked_mmHg) {
    double most = asked_mmHg;
    for (const SealPlace& place : profile) most = std::max(most, place.seal_mmHg);
    PressureScale scale;
    for (const double step : {25.0, 50.0, 100.0, 200.0, 400.0, 800.0, 1600.0}) {
        scale.most_mmHg = step;
        if (step >= most) break;
    }
    return scale;
}

void draw_grid(SvgCanvas& canvas, const PressureScale& scale) {
    for (const double part : {0.0625, 0.25, 1.0}) {
        const double pressure_mmHg = part * scale.most_mmHg;
        canvas.circle(kCentre, scale.radius(pressure_mmHg), "none", {kFaintInk, 1.0, ""});
    }
    for (int hour = 1; hour <= 12; ++hour) {
        const double deg = 90 - 30 * hour;
        canvas.line(around(kCentre, kRadius, deg), around(kCentre, kRadius + 5, deg), {kSoftInk, 1.0, ""});
        // Beside a bite's number an hour on the same line would read as more of it.
        const CanvasPoint at = around(kCentre, kRadius + 35, deg), side = around(kCentre, kRadius + 48, deg);
        canvas.text({side.x, at.y + 4}, fmt::format("{}:00", hour),
                    {12.0, Lettering::Anchor::middle, false, kSoftInk, false});
    }
}

void draw_grid_words(SvgCanvas& canvas, const PressureScale& scale, bool runs) {
    for (const double part : {0.0625, 0.25, 1.0}) {
        const double pressure_mmHg = part * scale.most_mmHg;
        // The outermost steps aside for a running thread.
        const double in = runs && part == 1.0 ? 17.0 : 0.0;
        const CanvasPoint at = around(kCentre, scale.radius(pressure_mmHg) - in, 15);
        canvas.text({at.x, at.y + 4}, fmt::format("{:g}", pressure_mmHg),
                    {11.5, Lettering::Anchor::middle, false, kSoftInk, true});
    }
}

// Where the seal is less than asked: a thick arc outside, so that it shows without colour.
void draw_weak_arcs(SvgCanvas& canvas, const std::vector<SealPlace>& profile, double asked_mmHg) {
    std::vector<CanvasPoint> arc;
    for (std::size_t j = 0; j <= profile.size(); ++j) {
        const SealPlace& place = profile[j % profile.size()];
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

// A thread on the surface from a host exit to a donor entry, the shorter way round. This rim is not to scale, so
// that the straight thread is drawn as an even slant within it.
std::vector<CanvasPoint> slant(double from_deg, double to_deg) {
    constexpr int kPieces = 16;
    const double turn = std::remainder(to_deg - from_deg, 360.0);
    std::vector<CanvasPoint> way;
    for (int i = 0; i <= kPieces; ++i) {
        const double along = static_cast<double>(i) / kPieces;
        way.push_back(around(kCentre, kHostEnd + (kDonorEnd - kHostEnd) * along, from_deg + turn * along));
    }
    return way;
}

// Every other run paler and thinner, to be told from the one whose places it crosses.
SvgPen run_pen(std::size_t run) { return {run % 2 == 0 ? kAttemptInk : kSoftInk, run % 2 == 0 ? 2.0 : 1.4, ""}; }

void draw_bites(SvgCanvas& canvas, const Case& what) {
    const std::vector<OrderedBite> bites = bites_in_order(what.attempt);
    const std::vector<RunSpan> spans = run_spans(what.attempt.bites.size(), what.attempt.runs);
    // A light edge first: threads have to show on the thick rim.
    for (const bool edge : {true, false}) {
        for (const RunSpan& span : spans) {
            canvas.polyline(slant(bites[span.from].host_deg, bites[span.to].host_deg),
                            edge ? SvgPen{kPaper, 4.6, ""} : run_pen(span.run));
        }
    }
    BiteNumbers numbers;
    for (std::size_t b = 0; b < bites.size(); ++b) {
        const OrderedBite& bite = bites[b];
        if (bite.removed) continue;
        // In the tissue a running thread lies deep: thinner than the strand of a single bite.
        canvas.line(around(kCentre, kDonorEnd, bite.host_deg), around(kCentre, kHostEnd, bite.host_deg),
                    {bite.run ? kSoftInk : kAttemptInk, bite.run ? 1.2 : 2.0, ""});
        if (spans.empty() && bites.size() > 24) continue;
        numbers.write(canvas, b, bite.host_deg, !spans.empty());
    }
    for (const RunSpan& span : spans) {
        if (!span.knot) continue;
        const std::vector<CanvasPoint> way = slant(bites[span.from].host_deg, bites[span.to].host_deg);
        canvas.circle(way[static_cast<std::size_t>(kKnotAlong * static_cast<double>(way.size()))], kKnot,
                      run_pen(span.run).colour, {kPaper, 1.2, ""});
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
    const WoundTest& wound = measures->wound;
    const double chamber_mmHg = what.scenario.eye.pressure_mmHg;
    const std::optional<double> asked = what.scenario.pass.leak_pressure_mmHg;
    const std::string opens = wound.capped ? fmt::format("holds {:g} mmHg, the highest tried; least sealed at {}",
                                                         wound.leak_pressure_mmHg, place_words(wound.weakest_deg))
                                           : fmt::format("opens at {:.1f} mmHg, first at {}, the arrow",
                                                         wound.leak_pressure_mmHg, place_words(wound.weakest_deg));
    Picture picture =
        panel(name, title,
              fmt::format("Sealing pressure around the wound at {:g} mmHg in the chamber; {}.", chamber_mmHg, opens));
    SvgCanvas& canvas = picture.canvas;
    canvas.text({10, 39}, fmt::format("seal in mmHg, square-root scale; dotted: the chamber's {:g}", chamber_mmHg),
                {12.0, Lettering::Anchor::start, false, kSoftInk, false});
    const PressureScale scale = scale_for(measures->profile, asked.value_or(chamber_mmHg));
    const bool runs = !what.attempt.runs.empty();
    draw_grid(canvas, scale);
    std::vector<CanvasPoint> seal;
    for (const SealPlace& place : measures->profile) {
        seal.push_back(around(kCentre, scale.radius(place.seal_mmHg), place.deg));
    }
    canvas.polygon(seal, "#dbe3ee", {kAttemptInk, 2.2, ""});
    canvas.circle(kCentre, scale.radius(chamber_mmHg), "none", {kInk, 1.2, "2 3"});
    if (asked) {
        canvas.circle(kCentre, scale.radius(*asked), "none", {kInk, 2.4, "9 5"});
        draw_weak_arcs(canvas, measures->profile, *asked);
    }
    draw_grid_words(canvas, scale, runs);
    draw_bites(canvas, what);
    if (runs) draw_run_key(canvas);
    canvas.arrow(around(kCentre, 8, wound.weakest_deg), around(kCentre, kRadius - 6, wound.weakest_deg),
                 {kInk, 2.6, ""}, 14);
    const Lettering caption{12.0, Lettering::Anchor::start, false, kInk, false};
    canvas.text({10, 380}, opens, caption);
    canvas.text({10, 396},
                asked ? fmt::format("dashed: {:g} mmHg asked for; thick rim: sealed by less", *asked)
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
