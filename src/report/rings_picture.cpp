// A keratoscope's rings, as the attempt's cornea mirrors them.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "optics/ring_reflection.h"
#include "report/closure_pictures.h"
#include "report/eye_frame.h"
#include "report/words.h"

namespace graftwright {
namespace {

constexpr std::size_t kAngles = 192;
constexpr double kShown_mm = 3.0;  // the outermost ring of a flat cornea

// The ring in pieces, wherever neighbours are both mirrored.
std::vector<std::vector<CanvasPoint>> pieces_of(const MirroredRing& ring, const EyeFrame& frame) {
    std::vector<std::vector<CanvasPoint>> pieces(1);
    for (std::size_t i = 0; i <= ring.size(); ++i) {
        const auto& point = ring[i % ring.size()];
        if (point) {
            pieces.back().push_back(frame.at(point->image_x, point->image_y));
        } else if (!pieces.back().empty()) {
            pieces.emplace_back();
        }
    }
    return pieces;
}

// The whole ring nearest to 3 mm across, where the keratometer reads.
struct ReadRing {
    std::size_t number = 0;
    RingShape shape;
};
std::optional<ReadRing> ring_to_read(const std::vector<MirroredRing>& rings) {
    std::optional<ReadRing> best;
    for (std::size_t k = 0; k < rings.size(); ++k) {
        const auto shape = ring_shape(rings[k]);
        const double wanted = 0.5 * kKeratometerRingDiameterMm;
        if (shape && (!best || std::abs(shape->mean_radius - wanted) < std::abs(best->shape.mean_radius - wanted))) {
            best = ReadRing{k + 1, *shape};
        }
    }
    return best;
}

}  // namespace

Picture rings_picture(const Case& what, Whose whose) {
    const std::string name = whose == Whose::attempt ? "rings-attempt" : "rings-ideal";
    const std::string title = fmt::format("Reflected rings, {}", word_of(whose));
    const ClosureMeasures* measures = measures_of(what, whose);
    if (measures == nullptr) return empty_panel(name, title, why_nothing(what, whose));

    const Keratoscope scope = standard_keratoscope();
    const std::vector<MirroredRing> rings = mirror_rings(*measures->front, scope, kAngles);
    const std::optional<ReadRing> read = ring_to_read(rings);
    std::string first = "no ring is whole", second;
    if (read) {
        first = fmt::format("ring {} (bold): {:.2f} mm across, {:.0f} µm longer one way,", read->number,
                            2 * read->shape.mean_radius, 1000 * read->shape.long_minus_short);
        second = fmt::format("narrow along {} (dashes): steep there; cylinder {:.2f} D",
                             whole_axis_deg(read->shape.short_axis_deg), measures->keratometry->cylinder_D);
    }
    Picture picture =
        panel(name, title, fmt::format("Ten rings of light mirrored by the front: {} {}.", first, second));
    SvgCanvas& canvas = picture.canvas;
    canvas.text({10, 39},
                fmt::format("{}, examiner's view; lights {:g}, camera {:g} mm off", word_of(what.scenario.eye.side),
                            scope.rings.front().distance, scope.camera_distance.value_or(0)),
                {12.0, Lettering::Anchor::start, false, kSoftInk, false});
    EyeFrame frame;
    frame.centre.x = picture.width / 2;
    frame.radius_mm = kShown_mm;
    canvas.circle(frame.centre, frame.radius_px, kPanel, {kInk, 0.0, ""});
    canvas.begin_clip(name + "-clip", frame.centre, frame.radius_px);
    for (std::size_t k = 0; k < rings.size(); ++k) {
        const bool bold = read && k + 1 == read->number;
        for (const auto& piece : pieces_of(rings[k], frame)) canvas.polyline(piece, {kInk, bold ? 4.0 : 2.0, ""});
    }
    canvas.end_clip();
    if (read) {
        for (const double turn : {0.0, 180.0}) {
            canvas.line(around(frame.centre, frame.px(read->shape.mean_radius) + 3, read->shape.short_axis_deg + turn),
                        around(frame.centre, frame.radius_px - 2, read->shape.short_axis_deg + turn),
                        {kAttemptInk, 2.0, "6 4"});
        }
    }
    draw_eye_frame(canvas, frame, what.scenario.eye.side);
    const Lettering caption{12.0, Lettering::Anchor::start, false, kInk, false};
    canvas.text({10, 394}, first, caption);
    canvas.text({10, 411}, second, caption);
    return picture;
}

}  // namespace graftwright
