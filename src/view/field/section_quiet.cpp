// The section while no needle is set down: the wound as it lies, cut where the plane being aimed crosses it, or
// where the chosen (else the last) bite lies, with its thread.
#include <algorithm>
#include <cmath>
#include <string>

#include "base/angle.h"
#include "base/units.h"
#include "base/words.h"
#include "view/field/section_pen.h"
#include "view/field/wound_outline.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

struct Cut {
    double deg = 90.0;               // where round the wound
    const LaidBite* bite = nullptr;  // that lies in it
    std::size_t number = 0;
    double front_mm = 0.0, back_mm = 0.0, step_mm = 0.0;
};

double around(const std::vector<double>& values, double deg) {
    if (values.empty()) return 0.0;
    const auto n = static_cast<double>(values.size());
    const auto i = static_cast<std::size_t>(std::fmod(std::round(deg / 360.0 * n) + 2.0 * n, n));
    return std::isfinite(values[i]) ? values[i] : 0.0;
}

double degrees_of(Point at) { return deg_from_rad(std::atan2(at.y, at.x)); }

Cut cut_of(const Snapshot& s) {
    Cut cut;
    const bool aiming = s.plane && s.stage == Stage::aim;
    if (aiming) cut.deg = degrees_of(s.plane->host_edge);
    const auto take = [&](std::size_t i) {
        cut.bite = &s.bites[i];
        cut.number = i + 1;
        cut.deg = degrees_of(s.bites[i].host_edge);
    };
    constexpr double kSamePlane_deg = 4.0;
    if (aiming) {
        for (std::size_t i = 0; i < s.bites.size(); ++i)
            if (!s.bites[i].bite.removed && apart_deg(degrees_of(s.bites[i].host_edge), cut.deg) < kSamePlane_deg)
                take(i);
    } else if (!s.bites.empty()) {
        const bool chosen =
            s.selected && *s.selected < s.bites.size() && s.stage != Stage::bury && s.stage != Stage::tie;
        const std::size_t i = chosen ? *s.selected : s.bites.size() - 1;
        if (!s.bites[i].bite.removed) take(i);
    }
    const WoundOutline outline(s);
    cut.front_mm = cut.back_mm = outline.gap_mm(rad_from_deg(cut.deg));
    if (s.wound && s.wound->converged && !s.wound->rigid) {
        cut.back_mm = mm_from_um(around(s.wound->gap_back_um, cut.deg));
        cut.step_mm = mm_from_um(around(s.wound->step_um, cut.deg));
    }
    return cut;
}

// One side of a thread's way, from the surface to the wound face: a quarter ellipse for a steep entry, a straight
// line for the flattest, between them as the entry angle asks. x counts away from the wound.
std::vector<Point> way_in_tissue(double length_mm, double depth_mm, double entry_deg) {
    const double flattest = deg_from_rad(std::atan2(depth_mm, length_mm));
    const double steep = std::clamp((entry_deg - flattest) / std::max(90.0 - flattest, 1.0), 0.0, 1.0);
    std::vector<Point> way;
    constexpr int kPoints = 28;
    for (int i = 0; i <= kPoints; ++i) {
        const double share = static_cast<double>(i) / kPoints, angle = share * kPi / 2.0;
        const Point round{length_mm * std::cos(angle), -depth_mm * std::sin(angle)};
        const Point straight{length_mm * (1.0 - share), -depth_mm * share};
        way.push_back({straight.x + steep * (round.x - straight.x), straight.y + steep * (round.y - straight.y)});
    }
    return way;
}

void draw_bite(const SectionPen& pen, const Cut& cut, double donor_mm, double rim_mm) {
    const Bite& bite = cut.bite->bite;
    const auto face = [&](double depth_mm, double thickness_mm) {
        return cut.front_mm + (cut.back_mm - cut.front_mm) * std::clamp(depth_mm / thickness_mm, 0.0, 1.0);
    };
    std::vector<Point> donor = way_in_tissue(bite.graft_bite_mm, mm_from_um(bite.graft_depth_um), bite.graft_entry_deg);
    for (Point& at : donor) at = {-at.x - face(-at.y, donor_mm), at.y - cut.step_mm};
    std::vector<Point> loop = pen.px(donor);
    std::vector<Point> host = way_in_tissue(bite.host_bite_mm, mm_from_um(bite.host_depth_um), bite.host_exit_deg);
    for (std::size_t i = host.size(); i-- > 0;) loop.push_back(pen.px(host[i]));
    pen.canvas.polyline(loop, 6.0, faded(palette::kText, 0.55));
    pen.canvas.polyline(loop, 3.4, palette::kThread);
    // The strand that lies on the surface; a running thread leaves the plane of the section at both ends.
    if (cut.bite->run) {
        for (const Point& end : {loop.front(), loop.back()}) {
            pen.canvas.disc({end.x, end.y - 2.0}, 4.6, faded(palette::kText, 0.55));
            pen.canvas.disc({end.x, end.y - 2.0}, 3.2, palette::kThread);
        }
    } else {
        const Point ends[] = {{loop.front().x, loop.front().y - 2.0}, {loop.back().x, loop.back().y - 2.0}};
        pen.canvas.polyline(ends, 5.0, faded(palette::kText, 0.45));
        pen.canvas.polyline(ends, 3.0, palette::kThread);
    }
    if (!pen.snapshot.aid(Aid::depth)) return;
    const Rect place = pen.snapshot.layout.section();
    const auto words = [](double depth_um, double thickness_mm, double length_mm) {
        return words::number(100.0 * mm_from_um(depth_um) / thickness_mm, 0) + " % deep · " +
               words::number(length_mm, 2) + " mm";
    };
    draw_tab(pen, {place.x + 10.0, place.y + 50.0}, words(bite.graft_depth_um, donor_mm, bite.graft_bite_mm),
             palette::kCalm);
    draw_tab(pen, {place.x + place.width - 10.0, place.y + 50.0}, words(bite.host_depth_um, rim_mm, bite.host_bite_mm),
             palette::kCalm, Align::right);
}

void draw_entry(const SectionPen& pen, const Cut& cut) {
    const BitePlane& plane = *pen.snapshot.plane;
    const Rect place = pen.snapshot.layout.section();
    const Point at = pen.px({-cut.front_mm - plane.entry_distance_mm, -cut.step_mm});
    pen.canvas.line({at.x, at.y - 34.0}, {at.x, at.y - 4.0}, 2.0, palette::kBrass);
    const Point head[] = {{at.x - 6.0, at.y - 12.0}, {at.x + 6.0, at.y - 12.0}, {at.x, at.y - 1.0}};
    pen.canvas.fill(head, palette::kBrass);
    if (pen.snapshot.aid(Aid::depth))
        draw_tab(pen, {std::max(at.x, place.x + 66.0), at.y - 42.0},
                 "entry " + words::number(plane.entry_distance_mm, 2) + " mm", palette::kText, Align::centre);
}

}  // namespace

void draw_quiet_section(const SectionPen& pen) {
    const Snapshot& s = pen.snapshot;
    const double donor_mm = mm_from_um(s.scenario->graft.thickness_um),
                 rim_mm = mm_from_um(s.scenario->eye.rim_thickness_um);
    const Cut cut = cut_of(s);
    const Rect place = s.layout.section();
    draw_chamber(pen, donor_mm);
    draw_wall(pen, flat_wall({-kShown_mm, -kShown_mm, -cut.front_mm, -cut.back_mm, -cut.step_mm, donor_mm, true}));
    draw_wall(pen, flat_wall({0.0, 0.0, kShown_mm, kShown_mm, 0.0, rim_mm, false}));
    if (cut.bite != nullptr) draw_bite(pen, cut, donor_mm, rim_mm);
    if (s.plane && s.stage == Stage::aim) draw_entry(pen, cut);
    std::string title = "Wound at " + place_words(cut.deg);
    if (cut.bite != nullptr) title += ", bite " + std::to_string(cut.number);
    if (cut.bite != nullptr && cut.bite->run) title += ", in a run";
    draw_tab(pen, {place.centre().x, place.y + 24.0}, title, palette::kQuietText, Align::centre);
}

}  // namespace graftwright
