#include "view/section_view.h"

#include <algorithm>
#include <cmath>

#include "view/canvas.h"
#include "view/field_pen.h"
#include "view/words.h"

namespace graftwright {
namespace {

// Layers of the wall, µm (textbook means, from memory): epithelium 50, Bowman's layer 12, Descemet's
// membrane and endothelium together 15 at the back.
constexpr double kEpithelium_mm = 0.050, kBowman_mm = 0.062, kDescemet_mm = 0.015;
constexpr double kShown_mm = 1.45;  // to either side of the wound, a little more than the section shows
constexpr int kLamellae = 9;

struct Wall {
    std::vector<Point> front, back;  // section mm, from left to right
    double thickness_mm = 0.55;
    Ink tissue;

    // The line at so many mm under the front.
    [[nodiscard]] std::vector<Point> at_depth(double mm) const {
        const double share = mm / thickness_mm;
        std::vector<Point> line;
        for (std::size_t i = 0; i < front.size(); ++i)
            line.push_back({front[i].x + share * (back[i].x - front[i].x), front[i].y + share * (back[i].y - front[i].y)});
        return line;
    }
};

struct SectionPen {
    Canvas& canvas;
    const Snapshot& snapshot;
    [[nodiscard]] Point px(Point mm) const { return snapshot.layout.section_to_canvas(mm); }
    [[nodiscard]] std::vector<Point> px(const std::vector<Point>& mm) const {
        std::vector<Point> points;
        for (const Point& point : mm) points.push_back(px(point));
        return points;
    }
};

Wall flat_wall(double from, double to, double thickness, Ink tissue) {
    Wall wall;
    wall.thickness_mm = thickness;
    wall.tissue = tissue;
    constexpr int kPoints = 24;
    for (int i = 0; i <= kPoints; ++i) {
        const double x = from + (to - from) * i / kPoints;
        wall.front.push_back({x, 0.0});
        wall.back.push_back({x, -thickness});
    }
    return wall;
}

void draw_wall(const SectionPen& pen, const Wall& wall) {
    const auto band = [&](double from, double to, Ink one, Ink other) {
        pen.canvas.ribbon(pen.px(wall.at_depth(from)), pen.px(wall.at_depth(to)), one, other);
    };
    const Ink deep = blended(wall.tissue, palette::kRoom, 0.34);
    band(0.0, wall.thickness_mm, blended(wall.tissue, palette::kRoom, 0.10), deep);
    band(0.0, kEpithelium_mm, blended(wall.tissue, ink(0xffffff), 0.45), blended(wall.tissue, ink(0xffffff), 0.28));
    for (int i = 1; i <= kLamellae; ++i) {
        const double depth = kBowman_mm + (wall.thickness_mm - kDescemet_mm - kBowman_mm) * i / (kLamellae + 1.0);
        pen.canvas.polyline(pen.px(wall.at_depth(depth)), 1.0, faded(palette::kRoom, i % 2 == 0 ? 0.16 : 0.10));
    }
    pen.canvas.polyline(pen.px(wall.at_depth(kBowman_mm)), 1.6, faded(palette::kText, 0.55));
    const std::vector<Point> limit = pen.px(wall.at_depth(wall.thickness_mm - kDescemet_mm));
    pen.canvas.dashed(limit, 1.6, palette::kRoom, 7.0, 4.0);
    band(wall.thickness_mm - 0.006, wall.thickness_mm, ink(0x7a4f6c), ink(0x7a4f6c));
    pen.canvas.polyline(pen.px(wall.front), 1.6, faded(palette::kText, 0.9));
    // The cut face.
    const Point face[] = {wall.front.front(), wall.back.front()}, other[] = {wall.front.back(), wall.back.back()};
    const bool donor = wall.front.back().x < 0.02;
    pen.canvas.line(pen.px(donor ? other[0] : face[0]), pen.px(donor ? other[1] : face[1]), 2.0, palette::kWound);
}

void draw_chamber(const SectionPen& pen, double thickness) {
    const Rect place = pen.snapshot.layout.section();
    const double top = pen.px({0.0, -0.5 * thickness}).y;
    const Point water[] = {{place.x, top}, {place.x + place.width, top},
                           {place.x + place.width, place.y + place.height}, {place.x, place.y + place.height}};
    pen.canvas.fill(water, palette::kChamber);
    // Iris comes up as the chamber shallows; in a deep one it lies below the picture.
    const double depth_mm = 0.10 + 1.2 * pen.snapshot.viscoelastic;
    const double y = pen.px({0.0, -thickness - depth_mm}).y;
    if (y < place.y + place.height) {
        const Point iris[] = {{place.x, y}, {place.x + place.width, y},
                              {place.x + place.width, place.y + place.height}, {place.x, place.y + place.height}};
        pen.canvas.fill(iris, palette::kIris);
        pen.canvas.line({place.x, y}, {place.x + place.width, y}, 2.0, faded(palette::kText, 0.4));
        pen.canvas.text({place.x + 10.0, std::min(y + 20.0, place.y + place.height - 8.0)}, "iris", kLeastText, palette::kRoom);
    }
}

// A flattened point of the donor where the lip now stands.
Point on_lip(const SectionView& view, Point flat) {
    const std::vector<Point>&front = view.donor_front, &back = view.donor_back;
    const double span = static_cast<double>(front.size() - 1);
    const double along = std::clamp((flat.x + view.tissue.gap_mm + 3.0) / 3.0 * span, 0.0, span);
    const auto i = std::min(static_cast<std::size_t>(along), front.size() - 2);
    const double u = along - static_cast<double>(i), depth = -flat.y / view.tissue.donor_thickness_mm;
    const auto mix = [](Point a, Point b, double s) { return Point{a.x + s * (b.x - a.x), a.y + s * (b.y - a.y)}; };
    return mix(mix(front[i], front[i + 1], u), mix(back[i], back[i + 1], u), depth);
}

void draw_tracks(const SectionPen& pen, const SectionView& view) {
    std::vector<Point> donor;
    for (const Point& flat : view.donor_track) donor.push_back(pen.px(on_lip(view, flat)));
    const bool thread = pen.snapshot.stage >= Stage::tie;
    for (const std::vector<Point>& track : {donor, pen.px(view.host_track)}) {
        if (track.size() < 2) continue;
        pen.canvas.polyline(track, thread ? 6.0 : 5.0, faded(palette::kText, 0.55));
        pen.canvas.polyline(track, thread ? 3.4 : 1.8, thread ? palette::kThread : palette::kMark);
    }
}

void draw_needle_arc(const SectionPen& pen, const SectionView& view) {
    constexpr int kPoints = 64;
    constexpr double kTaper_mm = 0.5, kWidth_px = 13.0;  // a 150 µm track is 30 px; the body is thinner (T7-09)
    std::vector<StripPoint> edge, body, light;
    // Grasped anew for the rim, what is still in the donor lies out of this plane: shown faintly.
    const bool on_host = pen.snapshot.stage == Stage::approach_host || pen.snapshot.stage == Stage::drive_host;
    for (int i = 0; i <= kPoints; ++i) {
        const double behind = view.needle.arc_mm * i / kPoints;
        const Point mm = view.pose.at(view.needle, behind), at = pen.px(mm);
        const double faint = on_host && mm.x < -view.tissue.gap_mm ? 0.16 : 1.0;
        const double width = kWidth_px * std::min(1.0, 0.08 + behind / kTaper_mm);
        edge.push_back({at, width + 3.0, faded(ink(0x0a0f12), faint)});
        body.push_back({at, width, faded(blended(palette::kSteelDark, palette::kSteel, 0.6), faint)});
        light.push_back({plus(at, {-0.15 * width, -0.2 * width}), 0.3 * width, faded(ink(0xffffff, 0.9), faint)});
    }
    pen.canvas.strip(edge);
    pen.canvas.strip(body);
    pen.canvas.strip(light);
    const Point tip = pen.px(view.pose.at(view.needle));
    if (view.tip_in_chamber) {
        pen.canvas.glow(tip, 46.0, faded(palette::kWarning, 0.8));
        pen.canvas.circle(tip, 18.0, 3.0, palette::kWarning);
    } else {
        pen.canvas.circle(tip, 9.0, 1.4, faded(palette::kBrass, 0.9));
    }
}

void tab(const SectionPen& pen, Point at, std::string_view words, Ink colour, Align align = Align::left) {
    const double width = pen.canvas.text_width(words, kLeastText) + 14.0;
    const double x = align == Align::left ? at.x : align == Align::right ? at.x - width : at.x - width / 2.0;
    pen.canvas.panel({x, at.y - 17.0, width, 23.0}, 6.0, faded(palette::kRoom, 0.8), faded(palette::kPanelEdge, 0.4));
    pen.canvas.text({x + 7.0, at.y}, words, kLeastText, colour);
}

void draw_readings(const SectionPen& pen, const SectionView& view) {
    const Rect place = pen.snapshot.layout.section();
    const bool depth = pen.snapshot.aid("depth");
    if (view.tip_in_chamber) {
        pen.canvas.panel({place.x + 12.0, place.y + place.height - 46.0, 250.0, 34.0}, 8.0, palette::kWarningDeep,
                         palette::kWarning);
        pen.canvas.triangle_sign({place.x + 34.0, place.y + place.height - 29.0}, 20.0);
        pen.canvas.text({place.x + 54.0, place.y + place.height - 23.0}, "Needle in the chamber", 16.0, palette::kText,
                        Align::left, Weight::strong);
    } else if (depth && view.tip_thickness_um > 0.0) {
        const Point tip = pen.px(view.pose.at(view.needle));
        const std::string words = words::number(view.tip_depth_um, 0) + " µm · " +
                                  words::number(100.0 * view.tip_depth_um / view.tip_thickness_um, 0) + " %";
        tab(pen, {std::clamp(tip.x, place.x + 70.0, place.x + place.width - 70.0), tip.y + 38.0}, words, palette::kText,
            Align::centre);
    }
    const double pitch = view.pose.pitch_deg();
    const bool driving = pen.snapshot.stage < Stage::tie;
    if (driving)
        tab(pen, {place.x + place.width - 10.0, place.y + 50.0},
            "Tip heads " + words::number(std::abs(pitch), 0) + "° " + (pitch >= 0.0 ? "down" : "up"), palette::kQuietText,
            Align::right);
    if (driving && view.eversion_deg > 0.0)
        tab(pen, {place.x + 10.0, place.y + 50.0}, "Lip lifted " + words::number(view.eversion_deg, 0) + "°",
            palette::kQuietText);
    if (!depth) return;
    const auto result = [&](const PassResult& pass, double thickness_mm, bool left) {
        if (!pass.complete) return;
        const std::string words = words::number(100.0 * mm_from_um(pass.depth_um) / thickness_mm, 0) + " % deep · " +
                                  words::number(pass.bite_mm, 2) + " mm";
        tab(pen, {left ? place.x + 10.0 : place.x + place.width - 10.0, place.y + 76.0}, words, palette::kCalm,
            left ? Align::left : Align::right);
    };
    result(view.donor_pass, view.tissue.donor_thickness_mm, true);
    result(view.host_pass, view.tissue.rim_thickness_mm, false);
}

void draw_frame_words(const SectionPen& pen) {
    const Rect place = pen.snapshot.layout.section();
    tab(pen, {place.x + 10.0, place.y + 24.0}, "donor", palette::kDonorTissue);
    tab(pen, {place.x + place.width - 10.0, place.y + 24.0}, "rim", palette::kHostTissue, Align::right);
    const double right = place.x + place.width - 14.0, y = place.y + place.height - 14.0;
    constexpr double kBar_mm = 0.5;
    const double left = right - kBar_mm * kSectionPixelsPerMm;
    pen.canvas.line({left, y}, {right, y}, 2.0, palette::kText);
    for (const double x : {left, right}) pen.canvas.line({x, y - 5.0}, {x, y + 5.0}, 2.0, palette::kText);
    pen.canvas.text({(left + right) / 2.0, y - 8.0}, "0.5 mm", kLeastText, palette::kText, Align::centre);
}

// Before a needle is set down: the wall as it lies, and where the plane would enter.
void draw_quiet(const SectionPen& pen) {
    const Scenario& scenario = *pen.snapshot.scenario;
    const double donor = mm_from_um(scenario.graft.thickness_um), rim = mm_from_um(scenario.eye.rim_thickness_um);
    draw_chamber(pen, donor);
    draw_wall(pen, flat_wall(-kShown_mm, -0.1, donor, palette::kDonorTissue));
    draw_wall(pen, flat_wall(0.0, kShown_mm, rim, palette::kHostTissue));
    if (!pen.snapshot.plane || pen.snapshot.stage != Stage::aim) return;
    const double x = -0.1 - pen.snapshot.plane->entry_distance_mm;
    const Point at = pen.px({x, 0.0});
    pen.canvas.line({at.x, at.y - 34.0}, {at.x, at.y - 4.0}, 2.0, palette::kBrass);
    const Point head[] = {{at.x - 6.0, at.y - 12.0}, {at.x + 6.0, at.y - 12.0}, {at.x, at.y - 1.0}};
    pen.canvas.fill(head, palette::kBrass);
    if (pen.snapshot.aid("depth"))
        tab(pen, {std::max(at.x, pen.snapshot.layout.section().x + 66.0), at.y - 42.0}, "entry " + words::number(pen.snapshot.plane->entry_distance_mm, 2) + " mm",
            palette::kText, Align::centre);
}

}  // namespace

void draw_section(Canvas& canvas, const Snapshot& snapshot) {
    const Rect place = snapshot.layout.section();
    const SectionPen pen{canvas, snapshot};
    canvas.panel(place, 3.0, palette::kAir, palette::kPanelEdge);
    canvas.clip(place);
    if (snapshot.section) {
        const SectionView& view = *snapshot.section;
        draw_chamber(pen, view.tissue.donor_thickness_mm);
        draw_wall(pen, flat_wall(0.0, kShown_mm, view.tissue.rim_thickness_mm, palette::kHostTissue));
        Wall lip;
        lip.front = view.donor_front;
        lip.back = view.donor_back;
        lip.thickness_mm = view.tissue.donor_thickness_mm;
        lip.tissue = palette::kDonorTissue;
        draw_wall(pen, lip);
        draw_tracks(pen, view);
        if (snapshot.stage < Stage::tie) draw_needle_arc(pen, view);
        draw_readings(pen, view);
    } else {
        draw_quiet(pen);
    }
    draw_frame_words(pen);
    canvas.unclip();
    canvas.panel(place, 3.0, faded(palette::kRoom, 0.0), palette::kPanelEdge);
}

}  // namespace graftwright
