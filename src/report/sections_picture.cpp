#include "report/sections_picture.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/units.h"
#include "closure/bite_path.h"
#include "report/words.h"
#include "score/bite_words.h"
#include "score/even_pattern.h"

namespace graftwright {
namespace {

constexpr double kWidth = 1160, kTitleHeight = 48;
constexpr const char *kDonorTissue = "#e4e9f0", *kHostTissue = "#f1ece4";

struct Cells {
    std::size_t columns = 6;
    double width = 0, height = 0, words = 12.0;
    double px_per_mm = 0;
    double half_mm = 1.5;      // shown on either side of the wound
    double headroom_mm = 0.0;  // above the donor's front, for a host that stands higher
    double depth_mm = 0.0;     // below it
};

// The wound at a bite, mm; nil where there is no closure.
struct Wound {
    double step = 0, gape = 0;
};
Wound wound_at(const Case& what, double deg) {
    const ClosureMeasures* measures = measures_of(what, Whose::attempt);
    if (measures == nullptr || measures->profile.empty()) return {};
    const auto nearest = std::min_element(
        measures->profile.begin(), measures->profile.end(),
        [&](const SealPlace& a, const SealPlace& b) { return apart_deg(a.deg, deg) < apart_deg(b.deg, deg); });
    return {mm_from_um(nearest->step_um), mm_from_um(nearest->posterior_gape_um)};
}

Cells cells_for(const Case& what, const std::vector<OrderedBite>& bites) {
    const std::size_t count = bites.size();
    Cells cells;
    cells.columns = count <= 18 ? 6 : count <= 32 ? 8 : 13;
    cells.width = kWidth / static_cast<double>(cells.columns);
    if (cells.columns > 8) cells.words = 11.0;
    for (const OrderedBite& bite : bites) {
        cells.half_mm = std::max({cells.half_mm, bite.graft_bite_mm + 0.25, bite.host_bite_mm + 0.25});
    }
    cells.px_per_mm = (cells.width - 14) / (2 * cells.half_mm);
    const double donor = mm_from_um(what.scenario.graft.thickness_um);
    const double host = mm_from_um(what.scenario.eye.rim_thickness_um);
    cells.depth_mm = donor;
    for (const OrderedBite& bite : bites) {
        const double step = wound_at(what, bite.host_deg).step;
        cells.headroom_mm = std::max(cells.headroom_mm, step);
        cells.depth_mm = std::max(cells.depth_mm, host - step);
    }
    cells.height = (cells.headroom_mm + cells.depth_mm) * cells.px_per_mm + 2.5 * cells.words + 22;
    return cells;
}

class Section {
  public:
    Section(SvgCanvas& canvas, const Case& what, const Cells& cells, CanvasPoint wound_front)
        : canvas_(canvas), what_(what), cells_(cells), origin_(wound_front) {}

    void draw(const OrderedBite& bite, const Wound& wound) {
        const double donor = mm_from_um(what_.scenario.graft.thickness_um);
        const double host = mm_from_um(what_.scenario.eye.rim_thickness_um);
        const double half = cells_.half_mm;
        canvas_.polygon({at(-half, 0), at(0, 0), at(0, donor), at(-half, donor)}, kDonorTissue, {kInk, 1.0, ""});
        canvas_.polygon(
            {at(half, -wound.step), at(0, -wound.step), at(wound.gape, host - wound.step), at(half, host - wound.step)},
            kHostTissue, {kInk, 1.0, ""});
        for (const double share : {kShallowest.value, kDeepest.value}) {
            canvas_.line(at(-half, share * donor), at(0, share * donor), {kSoftInk, 0.7, "3 3"});
            canvas_.line(at(0, share * host - wound.step), at(half, share * host - wound.step), {kSoftInk, 0.7, "3 3"});
        }
        draw_thread(bite, wound);
    }

  private:
    [[nodiscard]] CanvasPoint at(double x_mm, double depth_mm) const {
        return {origin_.x + x_mm * cells_.px_per_mm, origin_.y + depth_mm * cells_.px_per_mm};
    }
    void draw_thread(const OrderedBite& bite, const Wound& wound) {
        constexpr int kSpans = 12;
        std::vector<CanvasPoint> way;
        for (const SectionPoint& p : needle_section(bite.graft_bite_mm, mm_from_um(bite.graft_depth_um),
                                                    rad_from_deg(bite.graft_entry_deg), kSpans)) {
            way.push_back(at(-bite.graft_bite_mm * (1 - p.along), p.depth));
        }
        auto host =
            needle_section(bite.host_bite_mm, mm_from_um(bite.host_depth_um), rad_from_deg(bite.host_exit_deg), kSpans);
        std::reverse(host.begin(), host.end());
        for (const SectionPoint& p : host) way.push_back(at(bite.host_bite_mm * (1 - p.along), p.depth - wound.step));
        const std::string dash = bite.removed ? "3 3" : "";
        canvas_.polyline(way, {kAttemptInk, 2.2, dash});
        if (bite.run) {
            // On the surface a running thread leaves the cut: to its neighbours on either side.
            for (const CanvasPoint end : {way.front(), way.back()}) {
                canvas_.circle(end, kLeavesCut, kPaper, {kAttemptInk, 1.8, ""});
            }
            return;
        }
        canvas_.polyline({way.front(), at(0, 0), at(0, -wound.step), way.back()}, {kAttemptInk, 2.2, dash});
    }

    static constexpr double kLeavesCut = 3.4;  // px

    SvgCanvas& canvas_;
    const Case& what_;
    const Cells& cells_;
    CanvasPoint origin_;
};

void draw_cell(SvgCanvas& canvas, const Case& what, const Cells& cells, const OrderedBite& bite, std::size_t b,
               CanvasPoint corner) {
    const BiteMetrics& m = what.card.bites[b];
    const double line = 1.25 * cells.words;
    canvas.text({corner.x + 7, corner.y + line}, fmt::format("{}", b + 1),
                {cells.words + 1, Lettering::Anchor::start, true, kInk, false});
    if (bite.run) {
        canvas.text({corner.x + 7 + (b < 9 ? 1.1 : 1.8) * cells.words, corner.y + line}, run_name(bite),
                    {cells.words - (cells.columns > 8 ? 1.5 : 0.5), Lettering::Anchor::start, false, kSoftInk, false});
    }
    const bool degrees_alone = cells.columns > (bite.run ? 6U : 8U);  // room
    canvas.text({corner.x + cells.width - 7, corner.y + line},
                bite.removed    ? "cut out"
                : degrees_alone ? whole_deg(bite.host_deg)
                                : fmt::format("{}, {}", whole_deg(bite.host_deg), clock_hour(bite.host_deg)),
                {cells.words, Lettering::Anchor::end, false, kSoftInk, false});
    const double front = corner.y + line + 7 + cells.headroom_mm * cells.px_per_mm;
    Section(canvas, what, cells, {corner.x + cells.width / 2, front}).draw(bite, wound_at(what, bite.host_deg));
    const double below = corner.y + cells.height - 7;
    const auto depth = [&](double share, const char* shallow, const char* deep) {
        const bool broken = std::any_of(m.flags.begin(), m.flags.end(), [&](const std::string& flag) {
            return flag == shallow || flag == deep || flag == "enters-chamber";
        });
        return fmt::format("{:.0f} %{}", 100 * share, broken ? " !" : "");
    };
    canvas.text({corner.x + 7, below}, depth(m.depth_fraction_graft, "shallow-graft", "deep-graft"),
                {cells.words, Lettering::Anchor::start, false, kInk, false});
    canvas.text({corner.x + cells.width - 7, below}, depth(m.depth_fraction_host, "shallow-host", "deep-host"),
                {cells.words, Lettering::Anchor::end, false, kInk, false});
}

void draw_scale_bar(SvgCanvas& canvas, const Cells& cells) {
    const double right = kWidth - 8, left = right - cells.px_per_mm;
    canvas.line({left, 16}, {right, 16}, {kInk, 2.0, ""});
    for (const double x : {left, right}) canvas.line({x, 12}, {x, 20}, {kInk, 2.0, ""});
    canvas.text({left - 6, 20}, "1 mm", {12.0, Lettering::Anchor::end, false, kInk, false});
}

}  // namespace

Picture sections_picture(const Case& what) {
    Picture picture = panel("sections", "Section of each bite, to scale",
                            "Donor left, host right, front above; the thread's way and its depth on both sides.");
    picture.width = kWidth;
    SvgCanvas& canvas = picture.canvas;
    canvas.text({10, 39},
                fmt::format("donor left ({:g} µm), host right ({:g} µm); dashed: {:.0f} and {:.0f} % of the thickness, "
                            "the depth to aim between; ! outside it; below: depth reached at the wound",
                            what.scenario.graft.thickness_um, what.scenario.eye.rim_thickness_um,
                            100 * kShallowest.value, 100 * kDeepest.value),
                {12.0, Lettering::Anchor::start, false, kSoftInk, false});
    const std::vector<OrderedBite> bites = bites_in_order(what.attempt);
    if (bites.empty() || what.card.bites.size() < bites.size()) {
        canvas.text({10, 80}, "No bites to show.", {14.0, Lettering::Anchor::start, false, kInk, false});
        picture.height = 100;
        return picture;
    }
    if (!what.attempt.runs.empty()) {
        canvas.text({290, 21}, "small circles: a running thread leaves the cut there, to and from its neighbours",
                    {12.0, Lettering::Anchor::start, false, kSoftInk, false});
    }
    const Cells cells = cells_for(what, bites);
    draw_scale_bar(canvas, cells);
    for (std::size_t b = 0; b < bites.size(); ++b) {
        const std::size_t row = b / cells.columns, column = b % cells.columns;
        draw_cell(canvas, what, cells, bites[b], b,
                  {static_cast<double>(column) * cells.width, kTitleHeight + static_cast<double>(row) * cells.height});
    }
    const std::size_t rows = (bites.size() + cells.columns - 1) / cells.columns;
    picture.height = kTitleHeight + static_cast<double>(rows) * cells.height;
    return picture;
}

}  // namespace graftwright
