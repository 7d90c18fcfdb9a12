#include "view/editor/picture.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/angle.h"
#include "base/units.h"
#include "score/bites_in_order.h"
#include "view/kit/pen.h"
#include "view/kit/plot_geometry.h"

namespace graftwright {
namespace {

constexpr double kRoomAround = 30.0;  // for the hours
constexpr double kTick = 6.0;
constexpr double kKnot = 4.0, kKnotAlong = 0.3;
constexpr int kOutlineSides = 96;

double within(double value, double low, double high) {
    return std::isfinite(value) ? std::clamp(value, low, high) : low;
}

// Radius of an oval: mean diameter, long less short, direction of the long one.
double oval_mm(double diameter, double ovality, double axis_deg, double deg) {
    return 0.5 * within(diameter, 1.0, 30.0) +
           0.25 * within(ovality, 0.0, 4.0) * std::cos(2.0 * rad_from_deg(deg - within(axis_deg, -1e4, 1e4)));
}
double bed_mm(const Scenario& s, double deg) {
    return oval_mm(s.eye.bed_diameter_mm, s.eye.bed_ovality_mm, s.eye.bed_ovality_axis_deg, deg);
}
double donor_mm(const Scenario& s, double deg) {
    return oval_mm(s.graft.diameter_mm, s.graft.ovality_mm, s.graft.ovality_axis_deg, deg);
}

// What the picture has to hold: the limbus, or a bed that has strayed over it.
double reach_mm(const Scenario& s, double limbus_mm) {
    const double shift = std::hypot(within(s.eye.bed_shift_mm[0], -limbus_mm, limbus_mm),
                                    within(s.eye.bed_shift_mm[1], -limbus_mm, limbus_mm));
    const double widest = std::max(bed_mm(s, s.eye.bed_ovality_axis_deg), donor_mm(s, s.graft.ovality_axis_deg));
    constexpr double kBiteRoom_mm = 1.6;
    return widest + shift < limbus_mm ? limbus_mm : widest + shift + kBiteRoom_mm;
}

// The eye on paper: mm from the pupil's centre, turned half about for the surgeon.
class EyePaper {
  public:
    EyePaper(const Rect& place, const Scenario& scenario, bool examiner)
        : limbus_mm_(0.5 * within(scenario.eye.limbus_diameter_mm, 2.0, 30.0)),
          reach_mm_(reach_mm(scenario, limbus_mm_)),
          scale_((std::min(place.width, place.height) / 2.0 - kRoomAround) / reach_mm_),
          centre_(place.centre()),
          sign_(examiner ? 1.0 : -1.0),
          bed_{within(scenario.eye.bed_shift_mm[0], -limbus_mm_, limbus_mm_),
               within(scenario.eye.bed_shift_mm[1], -limbus_mm_, limbus_mm_)} {}

    [[nodiscard]] Point at(Point mm) const {
        return {centre_.x + sign_ * scale_ * mm.x, centre_.y - sign_ * scale_ * mm.y};
    }
    // From the bed's centre.
    [[nodiscard]] Point in_bed(double deg, double mm) const {
        return at({bed_.x + mm * std::cos(rad_from_deg(deg)), bed_.y + mm * std::sin(rad_from_deg(deg))});
    }
    [[nodiscard]] Point around(double deg, double mm) const {
        return at({mm * std::cos(rad_from_deg(deg)), mm * std::sin(rad_from_deg(deg))});
    }
    [[nodiscard]] double px(double mm) const { return scale_ * mm; }
    [[nodiscard]] double limbus_mm() const { return limbus_mm_; }
    [[nodiscard]] double reach() const { return reach_mm_; }
    [[nodiscard]] Point centre() const { return centre_; }

  private:
    double limbus_mm_, reach_mm_, scale_;
    Point centre_;
    double sign_;
    Point bed_;
};

template <typename Radius>
std::vector<Point> outline(const EyePaper& paper, const Radius& radius) {
    std::vector<Point> points;
    for (int i = 0; i < kOutlineSides; ++i) {
        const double deg = 360.0 * i / kOutlineSides;
        points.push_back(paper.in_bed(deg, radius(deg)));
    }
    return points;
}

void draw_hours(const PlotPen& pen, const EyePaper& paper) {
    const double out = paper.reach();
    for (int hour = 1; hour <= 12; ++hour) {
        const double deg = hour_deg(hour), per_px = 1.0 / paper.px(1.0);
        pen.line(paper.around(deg, out), paper.around(deg, out + kTick * per_px), ink(tone::quiet), 1.2);
        pen.words(paper.around(deg, out + 18.0 * per_px), std::to_string(hour), Face::small, ink(tone::quiet),
                  WordsAt::middle);
    }
}

// Where a thread enters the donor and leaves the host; `inner_mm`: how far in the entry lies.
struct Stitch {
    Point entry, exit;
    double inner_mm = 0.0;
};
Stitch stitch_of(const EyePaper& paper, const Scenario& scenario, const BitePath& bite) {
    const double host_deg = within(bite.host_deg, -1e4, 1e4);
    const double wound = bed_mm(scenario, host_deg);
    const auto aside = [](double skew_mm, double from_axis) {
        return deg_from_rad(within(skew_mm, -4.0, 4.0) / std::max(from_axis, 0.5));
    };
    const double inner = std::max(0.0, wound - within(bite.graft_bite_mm, 0.0, 6.0));
    const double outer = wound + within(bite.host_bite_mm, 0.0, 6.0);
    return {paper.in_bed(host_deg + aside(bite.graft_skew_mm, inner), inner),
            paper.in_bed(host_deg + aside(bite.host_skew_mm, outer), outer), inner};
}

void draw_bite(const PlotPen& pen, const EyePaper& paper, const Scenario& scenario, const OrderedBite& bite,
               std::size_t index, bool chosen) {
    const auto [entry, exit, inner] = stitch_of(paper, scenario, bite);
    const ImU32 colour = chosen ? ink(tone::warning) : bite.removed ? ink(tone::quiet, 0.7F) : ink(tone::text);
    if (bite.run)
        pen.line(entry, exit, ink(tone::text, 0.45F), 1.4);  // in the tissue, deep
    else if (bite.removed)
        pen.dashes(entry, exit, colour, 1.6, 3.0);
    else
        pen.line(entry, exit, colour, chosen ? 3.4 : 2.0);
    const double per_px = 1.0 / paper.px(1.0);
    pen.words(paper.in_bed(within(bite.host_deg, -1e4, 1e4), std::max(0.0, inner - 11.0 * per_px)),
              std::to_string(index + 1), chosen ? Face::strong : Face::small, colour, WordsAt::middle);
}

// Running threads on the surface: from a host exit straight to the next donor entry, the knot in the last span.
void draw_spans(const PlotPen& pen, const EyePaper& paper, const Scenario& scenario,
                const std::vector<OrderedBite>& bites) {
    for (const RunSpan& span : run_spans(scenario.start.bites.size(), scenario.start.runs)) {
        const Point from = stitch_of(paper, scenario, bites[span.from]).exit;
        const Point to = stitch_of(paper, scenario, bites[span.to]).entry;
        pen.line(from, to, ink(tone::text), 1.8);
        // Halfway along the last span often lies another thread's bite.
        if (span.knot)
            pen.disc({from.x + kKnotAlong * (to.x - from.x), from.y + kKnotAlong * (to.y - from.y)}, kKnot,
                     ink(tone::text));
    }
}

void draw_words(const PlotPen& pen, const Rect& place, const EyePaper& paper, const Scenario& scenario, bool examiner) {
    const double bottom = place.y + place.height;
    const bool nose_right = (scenario.eye.side == Side::right) == examiner;
    pen.words({place.x + 2.0, paper.centre().y + 22.0}, nose_right ? "temporal" : "nasal", Face::small,
              ink(tone::quiet));
    pen.words({place.x + place.width - 2.0, paper.centre().y + 22.0}, nose_right ? "nasal" : "temporal", Face::small,
              ink(tone::quiet), WordsAt::right);
    const double mm = paper.px(1.0), x = place.x + 2.0;
    pen.line({x, bottom - 12.0}, {x + mm, bottom - 12.0}, ink(tone::text), 2.0);
    pen.words({x + mm + 7.0, bottom - 12.0}, "1 mm", Face::small, ink(tone::quiet));
    const double right = place.x + place.width;
    pen.line({right - 118.0, bottom - 32.0}, {right - 92.0, bottom - 32.0}, ink(tone::accent), 2.0);
    pen.words({right - 84.0, bottom - 32.0}, "bed", Face::small, ink(tone::quiet));
    pen.dashes({right - 118.0, bottom - 12.0}, {right - 92.0, bottom - 12.0}, ink(tone::text), 1.4, 4.0);
    pen.words({right - 84.0, bottom - 12.0}, "donor, loose", Face::small, ink(tone::quiet));
    if (scenario.start.runs.empty()) return;
    pen.line({right - 118.0, bottom - 52.0}, {right - 92.0, bottom - 52.0}, ink(tone::text), 1.8);
    pen.disc({right - 105.0, bottom - 52.0}, kKnot, ink(tone::text));
    pen.words({right - 84.0, bottom - 52.0}, "running, knot", Face::small, ink(tone::quiet));
}

}  // namespace

void draw_level_picture(const Ui& ui, const Rect& place, const Scenario& scenario, const LevelPicture& how) {
    const PlotPen pen(ui);
    const EyePaper paper(place, scenario, how.examiner_view);
    pen.circle(paper.centre(), paper.px(paper.limbus_mm()), ink(tone::quiet, 0.8F), 1.6);
    constexpr double kPupil_mm = 1.5;  // only a mark of the centre that shift is measured from
    pen.circle(paper.centre(), paper.px(kPupil_mm), ink(tone::line), 1.2);
    pen.disc(paper.centre(), 2.0, ink(tone::quiet));
    draw_hours(pen, paper);
    pen.way(outline(paper, [&](double deg) { return bed_mm(scenario, deg); }), ink(tone::accent), 2.0, true);
    const std::vector<Point> donor = outline(paper, [&](double deg) { return donor_mm(scenario, deg); });
    for (std::size_t i = 0; i + 1 < donor.size(); i += 2) pen.line(donor[i], donor[i + 1], ink(tone::text, 0.85F), 1.4);
    const std::vector<OrderedBite> bites = bites_in_order(scenario.start.bites, scenario.start.runs);
    for (std::size_t b = 0; b < bites.size(); ++b) draw_bite(pen, paper, scenario, bites[b], b, how.chosen_bite == b);
    draw_spans(pen, paper, scenario, bites);
    draw_words(pen, place, paper, scenario, how.examiner_view);
}

}  // namespace graftwright
