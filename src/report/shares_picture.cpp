// Each bite's share of the astigmatism as an arrow on a double-angle plot.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/point.h"
#include "base/words.h"
#include "figure/double_angle.h"
#include "figure/words.h"
#include "report/closure_pictures.h"
#include "report/words.h"
#include "score/bite_words.h"
#include "score/bites_in_order.h"

namespace graftwright {
namespace {

constexpr CanvasPoint kPaperCentre{190, 204};
constexpr double kPaperRadius = 128.0;  // px
constexpr std::size_t kMostArrowsNumbered = 8;
constexpr double kLeastNumbered = 0.07;  // of the scale: a shorter arrow is hardly one

// An arrow's tip on the paper.
CanvasPoint at(const DoubleAngle& plot, Point tip) {
    const double unit = kPaperRadius / plot.full_D;
    return {kPaperCentre.x + tip.x * unit, kPaperCentre.y - tip.y * unit};
}

void draw_grid(SvgCanvas& canvas, const DoubleAngle& plot) {
    for (int ring = 1; ring <= DoubleAngle::kRings; ++ring) {
        canvas.circle(kPaperCentre, kPaperRadius * ring / DoubleAngle::kRings, "none", {kFaintInk, 1.0, ""});
    }
    for (const int axis_deg : DoubleAngle::kAxes_deg) {
        canvas.line(kPaperCentre, around(kPaperCentre, kPaperRadius, 2 * axis_deg), {kFaintInk, 1.0, ""});
        const CanvasPoint name = around(kPaperCentre, kPaperRadius + 18, 2 * axis_deg);
        canvas.text({name.x, name.y + 4}, fmt::format("{}°", axis_deg),
                    {12.0, Lettering::Anchor::middle, true, kInk, false});
    }
    for (int ring = 1; ring <= DoubleAngle::kRings; ++ring) {
        const CanvasPoint name = around(kPaperCentre, kPaperRadius * ring / DoubleAngle::kRings, 315);
        canvas.text({name.x, name.y + 4}, fmt::format("{:g} D", plot.step_D * ring),
                    {11.5, Lettering::Anchor::middle, false, kSoftInk, true});
    }
}

// A word just beyond a vector's tip, moved around it until it is clear of those before.
class TipWords {
  public:
    void write(SvgCanvas& canvas, CanvasPoint tip, const std::string& words, const Lettering& look) {
        double away = std::atan2(tip.y - kPaperCentre.y, tip.x - kPaperCentre.x);
        if (std::hypot(tip.x - kPaperCentre.x, tip.y - kPaperCentre.y) < 4) away = 0.6;
        CanvasPoint best = tip;
        for (int attempt = 0; attempt < 16; ++attempt) {
            const double turn = (attempt % 2 == 0 ? 1 : -1) * 0.45 * ((attempt % 8 + 1) / 2);
            const double reach = attempt < 8 ? 14 : 27;
            best = {tip.x + reach * std::cos(away + turn), tip.y + reach * std::sin(away + turn) + 4};
            const bool clear = std::none_of(taken_.begin(), taken_.end(), [&](const CanvasPoint& p) {
                return std::abs(p.x - best.x) < 18 && std::abs(p.y - best.y) < 13;
            });
            if (clear) break;
        }
        taken_.push_back(best);
        canvas.text(best, words, look);
    }

  private:
    std::vector<CanvasPoint> taken_;
};

void draw_shares(SvgCanvas& canvas, const DoubleAngle& plot, TipWords& words) {
    for (std::size_t rank = 0; rank < plot.arrows.size(); ++rank) {
        const DoubleAngle::Arrow& arrow = plot.arrows[rank];
        const CanvasPoint tip = at(plot, arrow.tip);
        canvas.arrow(kPaperCentre, tip, {kAttemptInk, rank == 0 ? 3.0 : 1.8, ""}, 10);
        // Short ones crowd around the middle: they keep their arrow, the table has their numbers.
        if (rank < kMostArrowsNumbered && arrow.size_D > kLeastNumbered * plot.full_D) {
            words.write(canvas, tip, fmt::format("{}", arrow.bite + 1),
                        {12.5, Lettering::Anchor::middle, true, kAttemptInk, true});
        }
    }
}

}  // namespace

Picture shares_picture(const Case& what) {
    const std::string name = "bite-shares", title = "Whose fault: share of each bite";
    if (measures_of(what, Whose::attempt) == nullptr)
        return empty_panel(name, title, why_nothing(what, Whose::attempt));
    const std::optional<DoubleAngle> plot = double_angle(what.card, SumOfShares::left_out);
    if (!plot) return empty_panel(name, title, "The shares were not asked for (--no-shares).");
    const Keratometry& k = *what.card.attempt.keratometry;
    Picture picture =
        panel(name, title,
              fmt::format("Double-angle plot: the closure's cylinder {:.2f} D at {} and each bite's share.",
                          k.cylinder_D, whole_axis_deg(k.steep_axis_deg)));
    SvgCanvas& canvas = picture.canvas;
    canvas.text({10, 39}, "double-angle plot: distance = dioptres, angle = steep axis × 2",
                {12.0, Lettering::Anchor::start, false, kSoftInk, false});
    const std::vector<OrderedBite> bites = bites_in_order(what.attempt);
    std::string runs = run_numbers(bites);
    if (what.attempt.runs.size() == 1) runs = "bites " + runs;  // of two there is no room for the word
    canvas.text({10, 55}, runs, {12.0, Lettering::Anchor::start, false, kSoftInk, false});
    draw_grid(canvas, *plot);
    TipWords words;
    const CanvasPoint closure = at(*plot, plot->attempt);
    canvas.line(kPaperCentre, closure, {kInk, 1.4, "2 3"});
    draw_shares(canvas, *plot, words);
    canvas.rectangle({closure.x - 5.5, closure.y - 5.5}, 11, 11, kInk, {kPaper, 1.0, ""});
    words.write(canvas, closure, "all", {12.5, Lettering::Anchor::middle, true, kInk, true});
    if (plot->ideal) canvas.circle(at(*plot, *plot->ideal), 5.5, kPaper, {kIdealInk, 2.4, ""});
    const Lettering caption{12.0, Lettering::Anchor::start, false, kInk, false};
    canvas.text({10, 377},
                fmt::format("“all”: the closure, {:.2f} D steep at {}; circle: ideal twin", k.cylinder_D,
                            whole_axis_deg(k.steep_axis_deg)),
                caption);
    const DoubleAngle::Arrow& largest = plot->arrows.front();
    canvas.text({10, 394},
                runs.empty() || largest.size_D <= kLeastNumbered * plot->full_D
                    ? "arrow n: what bite n adds, against its ideal twin"
                    : fmt::format("arrow n: what bite n adds; thickest: {}", bite_name(bites, largest.bite)),
                caption);
    if (what.card.interactions) {
        canvas.text({10, 411},
                    fmt::format("what no single bite explains: J0 {}, J45 {} D",
                                shown_number(what.card.interactions->J0_D, 2, true),
                                shown_number(what.card.interactions->J45_D, 2, true)),
                    caption);
    }
    return picture;
}

}  // namespace graftwright
