#include "report/sections_picture.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <string_view>

#include <fmt/format.h>

#include "base/angle.h"
#include "base/point.h"
#include "base/units.h"
#include "base/words.h"
#include "figure/bite_section.h"
#include "report/words.h"
#include "score/bite_metrics.h"
#include "score/bite_words.h"
#include "score/bites_in_order.h"

namespace graftwright {
namespace {

constexpr double kWidth = 1160, kTitleHeight = 48;
constexpr double kWords = 15.0;  // 7 pt where the picture is as wide as a printed page
constexpr const char *kDonorTissue = "#e4e9f0", *kHostTissue = "#f1ece4";

// How many cells stand in a row, and how high all of them may be beside the other things on a printed page.
struct Grid {
    std::size_t most_bites, columns;
    double most_px;
};
constexpr std::array<Grid, 4> kGrids = {{{18, 6, 400.0}, {24, 8, 350.0}, {32, 8, 440.0}, {64, 16, 300.0}}};

struct Cells {
    std::size_t columns = 6;
    double width = 0, height = 0;
    bool depths = true;  // written below; where cells are small the table alone has them
    double px_per_mm = 0;
    double half_mm = 1.5;      // shown on either side of the wound
    double headroom_mm = 0.0;  // above the donor's front, for a host that stands higher
    double depth_mm = 0.0;     // below it
};

// As solved; as laid where there is no closure.
WoundAtBite wound_of(const Case& what, const OrderedBite& bite) {
    const ClosureMeasures* measures = measures_of(what, Whose::attempt);
    return measures == nullptr ? WoundAtBite{} : wound_at(measures->profile, bite.host_deg);
}

std::size_t rows_of(std::size_t bites, std::size_t columns) { return (bites + columns - 1) / columns; }

Cells cells_for(const Case& what, const std::vector<OrderedBite>& bites) {
    const Grid* grid =
        std::find_if(kGrids.begin(), kGrids.end() - 1, [&](const Grid& one) { return bites.size() <= one.most_bites; });
    Cells cells;
    cells.columns = grid->columns;
    cells.width = kWidth / static_cast<double>(cells.columns);
    cells.depths = cells.columns <= 8;
    for (const OrderedBite& bite : bites) {
        cells.half_mm = std::max({cells.half_mm, bite.graft_bite_mm + 0.25, bite.host_bite_mm + 0.25});
    }
    const double donor = mm_from_um(what.scenario.graft.thickness_um);
    const double host = mm_from_um(what.scenario.eye.rim_thickness_um);
    cells.depth_mm = donor;
    for (const OrderedBite& bite : bites) {
        const double step = wound_of(what, bite).step;
        cells.headroom_mm = std::max(cells.headroom_mm, step);
        cells.depth_mm = std::max(cells.depth_mm, host - step);
    }
    const double words = (cells.depths ? 2.5 : 1.25) * kWords + 22, tall_mm = cells.headroom_mm + cells.depth_mm;
    const auto rows = static_cast<double>(std::max<std::size_t>(1, rows_of(bites.size(), cells.columns)));
    cells.px_per_mm =
        std::min((cells.width - 14) / (2 * cells.half_mm), ((grid->most_px - kTitleHeight) / rows - words) / tall_mm);
    cells.height = tall_mm * cells.px_per_mm + words;
    return cells;
}

// `wound_front`: where the wound meets the donor's front.
void draw_section(SvgCanvas& canvas, const Cells& cells, CanvasPoint wound_front, const BiteSection& cut,
                  const OrderedBite& bite) {
    constexpr double kLeavesCut = 3.4;  // px
    const auto at = [&](Point mm) {
        return CanvasPoint{wound_front.x + mm.x * cells.px_per_mm, wound_front.y - mm.y * cells.px_per_mm};
    };
    const auto all = [&](const std::vector<Point>& line) {
        std::vector<CanvasPoint> points;
        for (const Point& mm : line) points.push_back(at(mm));
        return points;
    };
    canvas.polygon(all(cut.donor), kDonorTissue, {kInk, 1.0, ""});
    canvas.polygon(all(cut.host), kHostTissue, {kInk, 1.0, ""});
    for (const BiteSection::Line& depth : cut.taught) canvas.line(at(depth.from), at(depth.to), {kSoftInk, 0.7, "3 3"});
    const SvgPen thread{kAttemptInk, 2.2, bite.removed ? "3 3" : ""};
    canvas.polyline(all(cut.thread), thread);
    canvas.polyline(all(cut.strand), thread);
    if (!cut.strand.empty()) return;
    for (const Point end : {cut.thread.front(), cut.thread.back()}) {
        canvas.circle(at(end), kLeavesCut, kPaper, {kAttemptInk, 1.8, ""});
    }
}

void draw_cell(SvgCanvas& canvas, const Case& what, const Cells& cells, const OrderedBite& bite, std::size_t b,
               CanvasPoint corner) {
    const BiteMetrics& m = what.card.bites[b];
    const double line = 1.25 * kWords, edge = cells.depths ? 7.0 : 4.0;
    using enum BiteFlag;
    const bool warns = !cells.depths && m.has_any({shallow_graft, deep_graft, shallow_host, deep_host, enters_chamber});
    canvas.text({corner.x + edge, corner.y + line}, fmt::format("{}{}", b + 1, warns ? "!" : ""),
                {kWords, Lettering::Anchor::start, true, kInk, false});
    if (bite.run && cells.depths) {
        canvas.text({corner.x + edge + (b < 9 ? 1.0 : 1.6) * kWords, corner.y + line}, run_name(bite),
                    {kWords, Lettering::Anchor::start, false, kSoftInk, false});
    }
    const bool degrees_alone = cells.columns > (bite.run ? 6U : 8U);  // room
    canvas.text({corner.x + cells.width - edge, corner.y + line},
                bite.removed    ? (cells.depths ? "cut out" : "out")
                : degrees_alone ? whole_deg(bite.host_deg)
                                : place_words(bite.host_deg),
                {kWords, Lettering::Anchor::end, false, kSoftInk, false});
    const double front = corner.y + line + 7 + cells.headroom_mm * cells.px_per_mm;
    draw_section(canvas, cells, {corner.x + cells.width / 2, front},
                 bite_section(what.scenario, bite, wound_of(what, bite), cells.half_mm), bite);
    if (!cells.depths) return;
    const double below = corner.y + cells.height - 7;
    const auto depth = [&](double share, BiteFlag shallow, BiteFlag deep) {
        return fmt::format("{:.0f} %{}", 100 * share, m.has_any({shallow, deep, enters_chamber}) ? " !" : "");
    };
    canvas.text({corner.x + 7, below}, depth(m.depth_fraction_graft, shallow_graft, deep_graft),
                {kWords, Lettering::Anchor::start, false, kInk, false});
    canvas.text({corner.x + cells.width - 7, below}, depth(m.depth_fraction_host, shallow_host, deep_host),
                {kWords, Lettering::Anchor::end, false, kInk, false});
}

void draw_scale_bar(SvgCanvas& canvas, const Cells& cells) {
    const double right = kWidth - 8, left = right - cells.px_per_mm;
    canvas.line({left, 16}, {right, 16}, {kInk, 2.0, ""});
    for (const double x : {left, right}) canvas.line({x, 12}, {x, 20}, {kInk, 2.0, ""});
    canvas.text({left - 6, 20}, "1 mm", {kWords, Lettering::Anchor::end, false, kInk, false});
}

}  // namespace

Picture sections_picture(const Case& what) {
    Picture picture = panel("sections", "Section of each bite, to scale",
                            "Donor left, host right, front above; the thread's way and its depth on both sides.");
    picture.width = kWidth;
    SvgCanvas& canvas = picture.canvas;
    const std::vector<OrderedBite> bites = bites_in_order(what.attempt);
    const Cells cells = cells_for(what, bites);
    canvas.text(
        {10, 39},
        fmt::format("donor left ({:g} µm), host right ({:g} µm); dashed: {:.0f} and {:.0f} % of the thickness, "
                    "the depth to aim between; ! outside it{}",
                    what.scenario.graft.thickness_um, what.scenario.eye.rim_thickness_um, 100 * kShallowest.value,
                    100 * kDeepest.value, cells.depths ? "; below: depth reached" : ""),
        {kWords, Lettering::Anchor::start, false, kSoftInk, false});
    if (bites.empty() || what.card.bites.size() < bites.size()) {
        canvas.text({10, 80}, "No bites to show.", {14.0, Lettering::Anchor::start, false, kInk, false});
        picture.height = 100;
        return picture;
    }
    if (!what.attempt.runs.empty()) {
        canvas.text({290, 21}, "small circles: a running thread leaves the cut there, to and from its neighbours",
                    {kWords, Lettering::Anchor::start, false, kSoftInk, false});
    }
    draw_scale_bar(canvas, cells);
    for (std::size_t b = 0; b < bites.size(); ++b) {
        const std::size_t row = b / cells.columns, column = b % cells.columns;
        draw_cell(canvas, what, cells, bites[b], b,
                  {static_cast<double>(column) * cells.width, kTitleHeight + static_cast<double>(row) * cells.height});
    }
    picture.height = kTitleHeight + static_cast<double>(rows_of(bites.size(), cells.columns)) * cells.height;
    return picture;
}

}  // namespace graftwright
