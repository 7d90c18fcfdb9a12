#include "report/curvature_picture.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/point.h"
#include "figure/colour_scale.h"
#include "figure/contours.h"
#include "report/eye_frame.h"
#include "report/words.h"

namespace graftwright {
namespace {

std::string hex(Rgb colour) { return fmt::format("#{:02x}{:02x}{:02x}", colour.r, colour.g, colour.b); }

// Writes numbers onto lines, each as far as it can be from those before it.
class LineLabels {
  public:
    LineLabels(SvgCanvas& canvas, const EyeFrame& frame) : canvas_(&canvas), frame_(frame) {}

    void label(const std::vector<std::vector<CanvasPoint>>& loops, const std::string& words) {
        for (const auto& loop : loops) {
            CanvasPoint best{};
            double farthest = kLeastApart;
            for (std::size_t i = 0; i < loop.size(); i += 2) {
                const double out = std::hypot(loop[i].x - frame_.centre.x, loop[i].y - frame_.centre.y);
                if (out > frame_.radius_px - 16 || out < kLeastApart) continue;
                double nearest = kOnePerLoop;
                for (const CanvasPoint& taken : taken_) {
                    nearest = std::min(nearest, std::hypot(loop[i].x - taken.x, 1.6 * (loop[i].y - taken.y)));
                }
                if (nearest <= farthest) continue;
                farthest = nearest;
                best = loop[i];
                if (nearest >= kOnePerLoop) break;
            }
            if (farthest <= kLeastApart) continue;
            taken_.push_back(best);
            canvas_->text({best.x, best.y + 4}, words, {12.0, Lettering::Anchor::middle, false, kInk, true});
        }
    }

  private:
    static constexpr double kLeastApart = 30, kOnePerLoop = 1e3;  // px
    SvgCanvas* canvas_;
    EyeFrame frame_;
    std::vector<CanvasPoint> taken_;
};

struct LevelLine {
    std::vector<std::vector<CanvasPoint>> loops;
    double level_D = 0;
};

// Fills the bands, lowest first; returns the lines between them.
std::vector<LevelLine> draw_bands(SvgCanvas& canvas, const EyeFrame& frame, const CurvatureMap& map) {
    const auto [low, high] = std::minmax_element(map.value_D.begin(), map.value_D.end());
    canvas.circle(frame.centre, frame.radius_px, hex(band_colour(dioptre_band(*low))), {kInk, 0.0, ""});
    std::vector<LevelLine> lines;
    for (int band = dioptre_band(*low) + 1; band <= dioptre_band(*high); ++band) {
        LevelLine line;
        line.level_D = kAbsoluteScale.low_D + kAbsoluteScale.step_D * (band - 1);
        for (const auto& loop : loops_at_level(map, line.level_D)) {
            std::vector<CanvasPoint> points;
            for (const Point& mm : loop) points.push_back(frame.at(mm.x, mm.y));
            line.loops.push_back(std::move(points));
        }
        const bool fifth = std::abs(std::remainder(line.level_D, 5.0)) < 1e-9;
        canvas.loops(line.loops, hex(band_colour(band)), {kInk, fifth ? 1.6 : 0.7, ""});
        lines.push_back(std::move(line));
    }
    return lines;
}

void draw_scale(SvgCanvas& canvas, const EyeFrame& frame) {
    const double x = 340, width = 14, bottom = frame.centre.y + frame.radius_px;
    const double step = 2 * frame.radius_px / kScaleBands;
    canvas.text({x + width / 2, bottom - 2 * frame.radius_px - 8}, "D",
                {12.5, Lettering::Anchor::middle, true, kInk, false});
    for (int band = 0; band < kScaleBands; ++band) {
        canvas.rectangle({x, bottom - step * (band + 1)}, width, step, hex(band_colour(band)), {kInk, 0.5, ""});
        if (band == 0 || (band - 1) % 2 != 0) continue;
        canvas.text({x + width + 4, bottom - step * band + 4},
                    fmt::format("{:g}", kAbsoluteScale.low_D + kAbsoluteScale.step_D * (band - 1)),
                    {11.5, Lettering::Anchor::start, false, kInk, false});
    }
}

void draw_meridians(SvgCanvas& canvas, const EyeFrame& frame, const Keratometry& k) {
    canvas.circle(frame.centre, frame.px(0.5 * kKeratometerRingDiameterMm), "none", {kInk, 1.0, "2 3"});
    for (const double turn : {0.0, 180.0}) {
        canvas.line(around(frame.centre, 22, k.steep_axis_deg + turn),
                    around(frame.centre, frame.radius_px - 3, k.steep_axis_deg + turn), {kInk, 1.8, ""});
        canvas.line(around(frame.centre, 22, k.steep_axis_deg + 90 + turn),
                    around(frame.centre, frame.radius_px - 3, k.steep_axis_deg + 90 + turn), {kInk, 1.4, "7 5"});
    }
}

}  // namespace

Picture curvature_picture(const Case& what, Whose whose, Curvature kind) {
    const bool axial = kind == Curvature::axial;
    const std::string name =
        fmt::format("{}-{}", axial ? "axial" : "tangential", whose == Whose::attempt ? "attempt" : "ideal");
    const std::string title = fmt::format("{} power, {}", axial ? "Axial" : "Tangential", word_of(whose));
    const ClosureMeasures* measures = measures_of(what, whose);
    if (measures == nullptr) return empty_panel(name, title, why_nothing(what, whose));

    EyeFrame frame;
    frame.radius_mm = map_radius_mm(what.scenario, what.attempt, what.card, kind);
    const CurvatureMap map = curvature_map(*measures->front, kind, frame.radius_mm);
    const Keratometry& k = *measures->keratometry;
    const std::string readings =
        fmt::format("steep {:.2f} D at {} (solid), flat {:.2f} D at {} (dashed)", k.steep_D,
                    whole_axis_deg(k.steep_axis_deg), k.flat_D, whole_axis_deg(k.steep_axis_deg + 90));
    Picture picture = panel(name, title,
                            fmt::format("Map of {} corneal power over the central {:.1f} mm: {}.",
                                        axial ? "axial" : "tangential", 2 * frame.radius_mm, readings));
    SvgCanvas& canvas = picture.canvas;
    canvas.text({10, 39},
                fmt::format("{}, examiner's view; central {:.1f} mm, steps of {:g} D", word_of(what.scenario.eye.side),
                            2 * frame.radius_mm, kAbsoluteScale.step_D),
                {12.0, Lettering::Anchor::start, false, kSoftInk, false});
    canvas.begin_clip(name + "-clip", frame.centre, frame.radius_px);
    const std::vector<LevelLine> lines = draw_bands(canvas, frame, map);
    draw_meridians(canvas, frame, k);
    // Words last, over all lines.
    LineLabels labels(canvas, frame);
    for (const LevelLine& line : lines) labels.label(line.loops, fmt::format("{:g}", line.level_D));
    canvas.end_clip();
    draw_eye_frame(canvas, frame, what.scenario.eye.side);
    draw_scale(canvas, frame);
    const Lettering caption{12.0, Lettering::Anchor::start, false, kInk, false};
    canvas.text({10, 394}, readings, caption);
    canvas.text({10, 411},
                fmt::format("cylinder {:.2f} D; dotted: the keratometer's {:g} mm ring", k.cylinder_D,
                            kKeratometerRingDiameterMm),
                caption);
    return picture;
}

}  // namespace graftwright
