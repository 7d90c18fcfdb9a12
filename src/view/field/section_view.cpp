#include "view/field/section_view.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "view/field/field_pen.h"
#include "view/field/section_pen.h"
#include "view/kit/canvas.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

// A flattened point of the donor where the lip now stands.
Point on_lip(const SectionView& view, Point flat) {
    const std::vector<Point>&front = view.donor_front, &back = view.donor_back;
    if (front.size() < 2 || back.size() != front.size()) return flat;
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
    for (const std::vector<Point>& track : {donor, pen.px(view.host_track)}) {
        if (track.size() < 2) continue;
        pen.canvas.polyline(track, 5.0, faded(palette::kText, 0.55));
        pen.canvas.polyline(track, 1.8, palette::kMark);
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
        const double faint = on_host && mm.x < -view.tissue.gap_mm ? 0.28 : 1.0;
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

void draw_readings(const SectionPen& pen, const SectionView& view) {
    const Rect place = pen.snapshot.layout.section();
    const bool depth = pen.snapshot.aid(Aid::depth);
    if (view.tip_in_chamber) {
        const Rect banner{place.centre().x - 170.0, place.y + 8.0, 250.0, 34.0};  // above: the tip is below
        pen.canvas.panel(banner, 8.0, palette::kWarningDeep, palette::kWarning);
        pen.canvas.triangle_sign({banner.x + 22.0, banner.y + 17.0}, 20.0);
        pen.canvas.text({banner.x + 42.0, banner.y + 23.0}, "Needle in the chamber", 16.0, palette::kText, Align::left,
                        Weight::strong);
    } else if (depth && view.tip_thickness_um > 0.0) {
        const Point tip = pen.px(view.pose.at(view.needle));
        const std::string words = words::number(view.tip_depth_um, 0) + " µm · " +
                                  words::number(100.0 * view.tip_depth_um / view.tip_thickness_um, 0) + " %";
        draw_tab(pen, {std::clamp(tip.x, place.x + 70.0, place.x + place.width - 70.0), tip.y + 38.0}, words,
                 palette::kText, Align::centre);
    }
    const double pitch = view.pose.pitch_deg();
    draw_tab(pen, {place.x + place.width - 10.0, place.y + 50.0},
             "Tip heads " + words::number(std::abs(pitch), 0) + "° " + (pitch >= 0.0 ? "down" : "up"),
             palette::kQuietText, Align::right);
    if (view.eversion_deg > 0.0)
        draw_tab(pen, {place.x + 10.0, place.y + 50.0}, "Lip lifted " + words::number(view.eversion_deg, 0) + "°",
                 palette::kQuietText);
    if (!depth) return;
    const auto result = [&](const PassResult& pass, double thickness_mm, bool left) {
        if (!pass.complete) return;
        const std::string words = words::number(100.0 * mm_from_um(pass.depth_um) / thickness_mm, 0) + " % deep · " +
                                  words::number(pass.bite_mm, 2) + " mm";
        draw_tab(pen, {left ? place.x + 10.0 : place.x + place.width - 10.0, place.y + 76.0}, words, palette::kCalm,
                 left ? Align::left : Align::right);
    };
    result(view.donor_pass, view.tissue.donor_thickness_mm, true);
    result(view.host_pass, view.tissue.rim_thickness_mm, false);
}

void draw_frame_words(const SectionPen& pen) {
    const Rect place = pen.snapshot.layout.section();
    // What the dashed line at the back is: the limit. Room for it only while the chamber is calm.
    const bool calm =
        pen.snapshot.viscoelastic > 0.4 && !(pen.snapshot.section && pen.snapshot.section->tip_in_chamber);
    const double rim = mm_from_um(pen.snapshot.scenario->eye.rim_thickness_um);
    const Point under = pen.px({0.12, -rim});
    if (calm && under.y < place.y + place.height - 30.0) {
        pen.canvas.line({under.x, under.y - 1.0}, {under.x, under.y + 12.0}, 1.2, faded(palette::kQuietText, 0.8));
        pen.canvas.text({under.x + 6.0, under.y + 19.0}, "Descemet's membrane", kLeastText, palette::kQuietText);
    }
    draw_tab(pen, {place.x + 10.0, place.y + 24.0}, "donor", palette::kDonorTissue);
    draw_tab(pen, {place.x + place.width - 10.0, place.y + 24.0}, "rim", palette::kHostTissue, Align::right);
    const double right = place.x + place.width - 14.0, y = place.y + place.height - 14.0;
    constexpr double kBar_mm = 0.5;
    const double left = right - kBar_mm * kSectionPixelsPerMm;
    pen.canvas.line({left, y}, {right, y}, 2.0, palette::kText);
    for (const double x : {left, right}) pen.canvas.line({x, y - 5.0}, {x, y + 5.0}, 2.0, palette::kText);
    pen.canvas.text({(left + right) / 2.0, y - 8.0}, "0.5 mm", kLeastText, palette::kText, Align::centre);
}

}  // namespace

void draw_section(Canvas& canvas, const Snapshot& snapshot) {
    const Rect place = snapshot.layout.section();
    const SectionPen pen{canvas, snapshot};
    canvas.panel(place, 3.0, palette::kAir, palette::kPanelEdge);
    canvas.clip(place);
    if (snapshot.section && snapshot.stage < Stage::tie) {
        const SectionView& view = *snapshot.section;
        draw_chamber(pen, view.tissue.donor_thickness_mm);
        draw_wall(pen, flat_wall({0.0, 0.0, kShown_mm, kShown_mm, 0.0, view.tissue.rim_thickness_mm, false}));
        draw_wall(pen, {view.donor_front, view.donor_back, view.tissue.donor_thickness_mm, true});
        draw_tracks(pen, view);
        draw_needle_arc(pen, view);
        draw_readings(pen, view);
    } else {
        draw_quiet_section(pen);
    }
    draw_frame_words(pen);
    canvas.unclip();
    canvas.panel(place, 3.0, faded(palette::kRoom, 0.0), palette::kPanelEdge);
}

}  // namespace graftwright
