// Each bite's share of the astigmatism as an arrow on a double-angle plot.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/closure_pictures.h"
#include "report/words.h"
#include "score/bite_words.h"

namespace graftwright {
namespace {

constexpr CanvasPoint kCentre{190, 204};
constexpr double kRadius = 128.0;  // px
constexpr std::size_t kMostNumbered = 8;
constexpr double kLeastNumbered = 0.07;  // of the scale: a shorter arrow is hardly one

struct VectorScale {
    double most_D = 1, step_D = 0.5;
    // Length = dioptres of cylinder, direction = twice the steep axis.
    [[nodiscard]] CanvasPoint at(double J0_D, double J45_D) const {
        const double unit = kRadius / most_D;
        return {kCentre.x + 2 * J0_D * unit, kCentre.y - 2 * J45_D * unit};
    }
};

VectorScale scale_for(double most_D) {
    for (const double step : {0.1, 0.2, 0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 7.5, 10.0}) {
        if (most_D <= 4 * step) return {4 * step, step};
    }
    return {most_D, most_D / 4};
}

void draw_grid(SvgCanvas& canvas, const VectorScale& scale) {
    for (int ring = 1; ring <= 4; ++ring) {
        canvas.circle(kCentre, kRadius * ring / 4, "none", {kFaintInk, 1.0, ""});
    }
    for (const int axis_deg : {0, 45, 90, 135}) {
        canvas.line(kCentre, around(kCentre, kRadius, 2 * axis_deg), {kFaintInk, 1.0, ""});
        const CanvasPoint at = around(kCentre, kRadius + 18, 2 * axis_deg);
        canvas.text({at.x, at.y + 4}, fmt::format("{}°", axis_deg),
                    {12.0, Lettering::Anchor::middle, true, kInk, false});
    }
    for (int ring = 1; ring <= 4; ++ring) {
        const CanvasPoint at = around(kCentre, kRadius * ring / 4, 315);
        canvas.text({at.x, at.y + 4}, fmt::format("{:g} D", scale.step_D * ring),
                    {11.5, Lettering::Anchor::middle, false, kSoftInk, true});
    }
}

// A word just beyond a vector's tip, moved around it until it is clear of those before.
class TipWords {
  public:
    void write(SvgCanvas& canvas, CanvasPoint tip, const std::string& words, const Lettering& look) {
        double away = std::atan2(tip.y - kCentre.y, tip.x - kCentre.x);
        if (std::hypot(tip.x - kCentre.x, tip.y - kCentre.y) < 4) away = 0.6;
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

double largest_D(const Case& what) {
    double most = what.card.attempt.keratometry->cylinder_D;
    if (what.card.ideal) most = std::max(most, what.card.ideal->keratometry->cylinder_D);
    for (const auto& share : what.card.shares) most = std::max(most, share ? share->share_D : 0.0);
    return most;
}

void draw_shares(SvgCanvas& canvas, const Case& what, const VectorScale& scale, TipWords& words) {
    std::vector<std::size_t> order;
    for (std::size_t b = 0; b < what.card.shares.size(); ++b) {
        if (what.card.shares[b]) order.push_back(b);
    }
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return what.card.shares[a]->share_D > what.card.shares[b]->share_D;
    });
    for (std::size_t rank = 0; rank < order.size(); ++rank) {
        const BiteShare& share = *what.card.shares[order[rank]];
        const CanvasPoint tip = scale.at(share.delta.J0_D, share.delta.J45_D);
        canvas.arrow(kCentre, tip, {kAttemptInk, rank == 0 ? 3.0 : 1.8, ""}, 10);
        // Short ones crowd around the middle: they keep their arrow, the table has their numbers.
        if (rank < kMostNumbered && share.share_D > kLeastNumbered * scale.most_D) {
            words.write(canvas, tip, fmt::format("{}", order[rank] + 1),
                        {12.5, Lettering::Anchor::middle, true, kAttemptInk, true});
        }
    }
}

}  // namespace

Picture shares_picture(const Case& what) {
    const std::string name = "bite-shares", title = "Whose fault: share of each bite";
    if (measures_of(what, Whose::attempt) == nullptr)
        return empty_panel(name, title, why_nothing(what, Whose::attempt));
    const bool shared = std::any_of(what.card.shares.begin(), what.card.shares.end(),
                                    [](const auto& share) { return share.has_value(); });
    if (!shared) return empty_panel(name, title, "The shares were not asked for (--no-shares).");
    const VectorScale scale = scale_for(largest_D(what));
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
    draw_grid(canvas, scale);
    TipWords words;
    const CanvasPoint closure = scale.at(k.power.J0_D, k.power.J45_D);
    canvas.line(kCentre, closure, {kInk, 1.4, "2 3"});
    draw_shares(canvas, what, scale, words);
    canvas.rectangle({closure.x - 5.5, closure.y - 5.5}, 11, 11, kInk, {kPaper, 1.0, ""});
    words.write(canvas, closure, "all", {12.5, Lettering::Anchor::middle, true, kInk, true});
    if (what.card.ideal) {
        const PowerVector& ideal = what.card.ideal->keratometry->power;
        const CanvasPoint at = scale.at(ideal.J0_D, ideal.J45_D);
        canvas.circle(at, 5.5, kPaper, {kIdealInk, 2.4, ""});
    }
    const Lettering caption{12.0, Lettering::Anchor::start, false, kInk, false};
    canvas.text({10, 377},
                fmt::format("“all”: the closure, {:.2f} D steep at {}; circle: ideal twin", k.cylinder_D,
                            whole_axis_deg(k.steep_axis_deg)),
                caption);
    const auto share_D = [&](const auto& share) { return share ? share->share_D : -1.0; };
    const auto largest = std::max_element(what.card.shares.begin(), what.card.shares.end(),
                                          [&](const auto& a, const auto& b) { return share_D(a) < share_D(b); });
    canvas.text({10, 394},
                runs.empty() || share_D(*largest) <= kLeastNumbered * scale.most_D
                    ? "arrow n: what bite n adds, against its ideal twin"
                    : fmt::format("arrow n: what bite n adds; thickest: {}",
                                  bite_name(bites, static_cast<std::size_t>(largest - what.card.shares.begin()))),
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
