// Dimples and radiating folds where a thread draws too hard, from the slopes of the solved surface: just inside the
// entry a tight bite turns the front down, far more than its neighbours that only hold.
#include <algorithm>

#include "base/units.h"
#include "view/field/field_pen.h"
#include "view/field/surface_slopes.h"

namespace graftwright {
namespace {

// Even bites of a firm closure turn the front down by about 0.04 there, one drawn to 40 mN by 0.14 (this
// model's own answers): folds begin between the two.
constexpr double kFoldsBegin = 0.06, kFoldsFull = 0.15;
constexpr double kInsideEntry_mm = 0.06;

double strength_of(const FieldPen& pen, const LaidBite& laid, double radius_mm) {
    const double rad = std::atan2(laid.entry.y, laid.entry.x);
    const Point at = plus(laid.entry, polar(kInsideEntry_mm, rad));
    const double down = -radial_slope_beyond_sphere(*pen.snapshot.wound, at, radius_mm);
    return std::clamp((down - kFoldsBegin) / (kFoldsFull - kFoldsBegin), 0.0, 1.0);
}

// A ridge seen in slanting light: bright on one flank, dark on the other.
void draw_fold(const FieldPen& pen, Point from, double rad, double length_mm, double bend, double strength) {
    std::vector<StripPoint> light, dark;
    constexpr int kPoints = 14;
    for (int i = 0; i <= kPoints; ++i) {
        const double share = static_cast<double>(i) / kPoints, fade = std::sin(kPi * std::sqrt(share));
        const Point at =
            pen.px(plus(plus(from, polar(length_mm * share, rad)), polar(bend * share * share, rad + kPi / 2.0)));
        const double width = pen.px(0.034) * (0.4 + fade);
        light.push_back({plus(at, {-0.9, -1.1}), width, ink(0xf2fafc, 0.36 * strength * fade)});
        dark.push_back({plus(at, {1.1, 1.4}), width * 1.2, ink(0x04090b, 0.40 * strength * fade)});
    }
    pen.canvas.strip(dark);
    pen.canvas.strip(light);
}

}  // namespace

void draw_folds(const FieldPen& pen) {
    const Snapshot& s = pen.snapshot;
    if (!s.wound || !s.wound->converged || s.wound->rigid || s.wound->slope_x.n < 2) return;
    for (const LaidBite& laid : s.bites) {
        if (!laid.holds()) continue;
        const double strength = strength_of(pen, laid, s.scenario->eye.anterior_radius_mm);
        if (strength <= 0.0) continue;
        const double out = std::atan2(laid.exit.y - laid.entry.y, laid.exit.x - laid.entry.x);
        pen.canvas.glow(pen.px(laid.entry), pen.px(0.32), ink(0x04090b, 0.42 * strength));
        pen.canvas.glow(pen.px(laid.exit), pen.px(0.26), ink(0x04090b, 0.34 * strength));
        constexpr int kFolds = 3;                  // to each side of the middle one
        for (int k = -kFolds; k <= kFolds; ++k) {  // inward over the donor, then shorter over the rim
            // No two folds alike: a fixed unevenness of length and spacing.
            const double uneven = 0.5 + 0.5 * std::sin(2.7 * k + laid.bite.host_deg);
            const double fan = 0.27 * k + 0.10 * (uneven - 0.5), shorter = 1.0 - 0.16 * std::abs(k) + 0.2 * uneven;
            draw_fold(pen, plus(laid.entry, polar(-0.16, out + fan)), out + kPi + fan,
                      (0.45 + 0.65 * strength) * shorter, 0.06 * k, strength * (0.6 + 0.4 * uneven));
            draw_fold(pen, plus(laid.exit, polar(0.14, out + fan)), out + fan, (0.30 + 0.35 * strength) * shorter,
                      -0.05 * k, 0.7 * strength * (0.6 + 0.4 * uneven));
        }
        // Between the two the tissue bulges to both sides of the strand.
        for (const double way : {-1.0, 1.0})
            draw_fold(pen, plus(plus(laid.entry, polar(0.15, out)), polar(0.11 * way, out + kPi / 2.0)), out,
                      distance(laid.entry, laid.exit) - 0.3, 0.0, 0.55 * strength);
    }
}

}  // namespace graftwright
