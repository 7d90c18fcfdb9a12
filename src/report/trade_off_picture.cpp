// Mean power against leak pressure: the attempt among simulated experts.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/units.h"
#include "base/words.h"
#include "report/closure_pictures.h"
#include "report/words.h"

namespace graftwright {
namespace {

constexpr double kLeft = 52, kRight = 336, kTop = 78, kBottom = 322;

struct Range {
    double low = 0, high = 1;
    void take(double value) {
        low = std::min(low, value);
        high = std::max(high, value);
    }
};

struct Axes {
    Range leak_mmHg, mean_D;
    [[nodiscard]] CanvasPoint at(double leak, double mean) const {
        return {kLeft + (kRight - kLeft) * (leak - leak_mmHg.low) / (leak_mmHg.high - leak_mmHg.low),
                kBottom - (kBottom - kTop) * (mean - mean_D.low) / (mean_D.high - mean_D.low)};
    }
};

Axes axes_for(const Case& what) {
    const ClosureMeasures& attempt = what.card.attempt;
    Axes axes;
    axes.leak_mmHg = {0.0, std::max(60.0, attempt.wound.leak_pressure_mmHg)};
    axes.mean_D = {attempt.keratometry->mean_D, attempt.keratometry->mean_D};
    if (what.card.ideal) {
        axes.leak_mmHg.take(what.card.ideal->wound.leak_pressure_mmHg);
        axes.mean_D.take(what.card.ideal->keratometry->mean_D);
    }
    for (const Expert& expert : what.experts.rows) {
        axes.leak_mmHg.take(expert.leak_pressure_mmHg);
        axes.mean_D.take(expert.mean_D);
    }
    if (what.scenario.pass.leak_pressure_mmHg) axes.leak_mmHg.take(*what.scenario.pass.leak_pressure_mmHg);
    axes.leak_mmHg.high = 20 * std::ceil(axes.leak_mmHg.high / 20 + 0.2);
    axes.mean_D = {std::floor(axes.mean_D.low - 0.3), std::ceil(axes.mean_D.high + 0.3)};
    return axes;
}

void draw_axes(SvgCanvas& canvas, const Case& what, const Axes& axes) {
    canvas.rectangle({kLeft, kTop}, kRight - kLeft, kBottom - kTop, "none", {kInk, 1.2, ""});
    const Lettering number{12.0, Lettering::Anchor::middle, false, kSoftInk, false};
    const double leak_step = axes.leak_mmHg.high > 100 ? 40 : 20;
    for (double leak = 0; leak <= axes.leak_mmHg.high; leak += leak_step) {
        const double x = axes.at(leak, axes.mean_D.low).x;
        canvas.line({x, kBottom}, {x, kBottom + 5}, {kInk, 1.0, ""});
        canvas.text({x, kBottom + 18}, fmt::format("{:g}", leak), number);
    }
    const double uncut_D = kKeratometricDioptreMm / what.scenario.eye.anterior_radius_mm;
    const double mean_step = axes.mean_D.high - axes.mean_D.low > 8 ? 2 : 1;
    for (double mean = axes.mean_D.low; mean <= axes.mean_D.high + 1e-9; mean += mean_step) {
        const double y = axes.at(0, mean).y;
        canvas.line({kLeft - 5, y}, {kLeft, y}, {kInk, 1.0, ""});
        canvas.text({kLeft - 8, y + 4}, fmt::format("{:g}", mean),
                    {12.0, Lettering::Anchor::end, false, kSoftInk, false});
        canvas.line({kRight, y}, {kRight + 5, y}, {kInk, 1.0, ""});
        canvas.text({kRight + 8, y + 4}, shown_number(uncut_D - mean, 1),
                    {12.0, Lettering::Anchor::start, false, kSoftInk, false});
    }
    const Lettering name{12.0, Lettering::Anchor::start, true, kInk, false};
    canvas.text({10, kTop - 10}, "mean power, D", name);
    canvas.text({370, kTop - 10}, "flattening, D", {12.0, Lettering::Anchor::end, true, kInk, false});
    canvas.text({(kLeft + kRight) / 2, kBottom + 34}, "leak pressure, mmHg",
                {12.0, Lettering::Anchor::middle, true, kInk, false});
}

void diamond(SvgCanvas& canvas, CanvasPoint at, double half, const std::string& fill, const SvgPen& pen) {
    canvas.polygon({{at.x, at.y - half}, {at.x + half, at.y}, {at.x, at.y + half}, {at.x - half, at.y}}, fill, pen);
}

void draw_limits(SvgCanvas& canvas, const Case& what, const Axes& axes) {
    const PassMarks& pass = what.scenario.pass;
    if (pass.leak_pressure_mmHg) {
        const double x = axes.at(*pass.leak_pressure_mmHg, 0).x;
        canvas.line({x, kTop}, {x, kBottom}, {kInk, 1.4, "9 5"});
        canvas.text({x + 4, kBottom - 8}, "asked for →", {11.5, Lettering::Anchor::start, false, kInk, true});
    }
    if (pass.flattening_D && what.card.ideal) {
        const double limit_D = what.card.ideal->keratometry->mean_D - *pass.flattening_D;
        const double y = axes.at(0, limit_D).y;
        if (y > kTop && y < kBottom) {
            canvas.line({kLeft, y}, {kRight, y}, {kInk, 1.4, "9 5"});
            canvas.text({kLeft + 4, y - 5}, "flattening within its limit ↑",
                        {11.5, Lettering::Anchor::start, false, kInk, true});
        }
    }
}

}  // namespace

Picture trade_off_picture(const Case& what) {
    const ClosureMeasures* measures = measures_of(what, Whose::attempt);
    const std::string name = "trade-off", title = "Trade-off: seal against flattening";
    if (measures == nullptr) return empty_panel(name, title, why_nothing(what, Whose::attempt));
    const Axes axes = axes_for(what);
    const double leak = measures->wound.leak_pressure_mmHg, mean = measures->keratometry->mean_D;
    Picture picture =
        panel(name, title,
              fmt::format("Mean corneal power against leak pressure: attempt {:.2f} D, {:.1f} mmHg, among "
                          "{} simulated experts.",
                          mean, leak, what.experts.rows.size()));
    SvgCanvas& canvas = picture.canvas;
    canvas.text({10, 39}, "tighter threads move a closure to the right and down",
                {12.0, Lettering::Anchor::start, false, kSoftInk, false});
    draw_axes(canvas, what, axes);
    for (const Expert& expert : what.experts.rows) {
        canvas.circle(axes.at(expert.leak_pressure_mmHg, expert.mean_D), 3.2, kPaper, {kSoftInk, 1.2, ""});
    }
    draw_limits(canvas, what, axes);
    if (what.card.ideal) {
        diamond(canvas, axes.at(what.card.ideal->wound.leak_pressure_mmHg, what.card.ideal->keratometry->mean_D), 8,
                kPaper, {kIdealInk, 2.6, ""});
    }
    diamond(canvas, axes.at(leak, mean), 8, kAttemptInk, {kPaper, 1.2, ""});
    const Lettering caption{12.0, Lettering::Anchor::start, false, kInk, false};
    canvas.text({10, 376}, "full diamond: attempt; hollow diamond: ideal twin", caption);
    canvas.text({10, 392},
                fmt::format("flattening: against the uncut front's {:.2f} D",
                            kKeratometricDioptreMm / what.scenario.eye.anterior_radius_mm),
                caption);
    canvas.paragraph({10, 408},
                     what.experts.rows.empty()
                         ? what.experts.why_none
                         : fmt::format("dots: {} simulated experts (solved, no people)", what.experts.rows.size()),
                     360, caption, 15);
    return picture;
}

}  // namespace graftwright
