#include "report/single_picture.h"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "report/closure_pictures.h"
#include "report/curvature_picture.h"
#include "report/raster.h"
#include "report/sections_picture.h"
#include "report/words.h"
#include "score/scorecard_table.h"

namespace graftwright {
namespace {

Picture in_rows(std::string name, std::string title, const std::vector<std::vector<Picture>>& rows) {
    constexpr double kGap = 10, kEdge = 6;
    Picture all;
    all.name = std::move(name);
    all.title = std::move(title);
    all.width = all.height = 0;
    double y = kEdge;
    for (const auto& row : rows) {
        double x = kEdge, tallest = 0;
        for (const Picture& one : row) {
            all.canvas.place(one.canvas, {x, y});
            all.description += (all.description.empty() ? "" : " ") + one.description;
            x += one.width + kGap;
            tallest = std::max(tallest, one.height);
        }
        all.width = std::max(all.width, x - kGap + kEdge);
        y += tallest + kGap;
    }
    all.height = y - kGap;
    return all;
}

// What a slide says in large letters.
Picture numbers_panel(const Case& what) {
    Picture picture = panel("numbers", "In numbers", "The main readings of the attempt and its ideal twin.");
    const ClosureMeasures* attempt = measures_of(what, Whose::attempt);
    if (attempt == nullptr) return empty_panel("numbers", "In numbers", why_nothing(what, Whose::attempt));
    const ClosureMeasures* ideal = measures_of(what, Whose::ideal);
    SvgCanvas& canvas = picture.canvas;
    double y = 62;
    const Lettering small{12.5, Lettering::Anchor::start, false, kSoftInk, false};
    const auto reading = [&](const char* words, const std::string& value, const std::string& twin) {
        canvas.text({10, y}, words, small);
        canvas.text({10, y + 28}, value, {26.0, Lettering::Anchor::start, true, kAttemptInk, false});
        canvas.text({370, y + 28}, twin, {15.0, Lettering::Anchor::end, false, kInk, false});
        y += 66;
    };
    const auto twin = [&](const std::string& value) { return ideal ? "ideal twin " + value : std::string(); };
    const Keratometry& k = *attempt->keratometry;
    reading("cylinder, steep meridian", fmt::format("{:.2f} D at {}", k.cylinder_D, whole_axis_deg(k.steep_axis_deg)),
            twin(ideal ? fmt::format("{:.2f} D", ideal->keratometry->cylinder_D) : ""));
    reading("mean power", fmt::format("{:.2f} D", k.mean_D),
            twin(ideal ? fmt::format("{:.2f} D", ideal->keratometry->mean_D) : ""));
    const auto leak = [](const WoundTest& w) {
        return fmt::format("{}{:.1f} mmHg", w.capped ? "over " : "", w.leak_pressure_mmHg);
    };
    reading("leak pressure", leak(attempt->wound), twin(ideal ? leak(ideal->wound) : ""));
    if (what.card.score) {
        reading("marks", fmt::format("{:.0f} of 100", what.card.score->total),
                what.card.score->passed ? "passed" : "not passed");
    }
    canvas.paragraph({10, y + 2}, advice(what.attempt, what.card), 360,
                     {14.0, Lettering::Anchor::start, false, kInk, false}, 19);
    return picture;
}

Picture overview(const Case& what) {
    return in_rows("overview", "Overview of a closure",
                   {{curvature_picture(what, Whose::attempt, Curvature::axial),
                     curvature_picture(what, Whose::ideal, Curvature::axial), rings_picture(what, Whose::attempt),
                     rings_picture(what, Whose::ideal)},
                    {numbers_panel(what), shares_picture(what), leak_picture(what), trade_off_picture(what)}});
}

}  // namespace

std::optional<PictureKind> picture_kind(std::string_view name) {
    for (const PictureName& one : kPictureNames) {
        if (name == one.name) return one.kind;
    }
    return std::nullopt;
}

Picture single_picture(const Case& what, PictureKind kind) {
    const auto both = [&](const char* name, const char* title, auto picture) {
        return in_rows(name, title, {{picture(Whose::attempt), picture(Whose::ideal)}});
    };
    switch (kind) {
        case PictureKind::axial:
            return both("axial", "Axial power, attempt and ideal twin",
                        [&](Whose whose) { return curvature_picture(what, whose, Curvature::axial); });
        case PictureKind::tangential:
            return both("tangential", "Tangential power, attempt and ideal twin",
                        [&](Whose whose) { return curvature_picture(what, whose, Curvature::tangential); });
        case PictureKind::rings:
            return both("rings", "Reflected rings, attempt and ideal twin",
                        [&](Whose whose) { return rings_picture(what, whose); });
        case PictureKind::shares:
            return shares_picture(what);
        case PictureKind::leak:
            return leak_picture(what);
        case PictureKind::sections:
            return sections_picture(what);
        case PictureKind::trade_off:
            return trade_off_picture(what);
        default:
            return overview(what);
    }
}

std::string picture_svg(const Case& what, PictureKind kind) {
    return standalone_svg(single_picture(what, kind), subject_of(what));
}

std::string picture_png(const Case& what, PictureKind kind, int width_px) {
    const Picture picture = single_picture(what, kind);
    if (width_px == 0) width_px = static_cast<int>(std::min(3 * picture.width, 1920.0));
    return png_of_svg(standalone_svg(picture, subject_of(what)), width_px);
}

}  // namespace graftwright
