#include "game/layout.h"

namespace graftwright {
namespace {

// How far below the host's front the section's middle lies, so that the needle's back has room above.
constexpr double kSectionMiddle_mm = -0.15;

}  // namespace

Point Layout::field_to_canvas(Point mm) const {
    // The canvas' y points down, so the examiner's view turns y over and the surgeon's turns x over.
    const double sense = examiner_view ? 1.0 : -1.0, scale = sense * field_pixels_per_mm();
    const Point middle = field().centre();
    return {middle.x + scale * mm.x, middle.y - scale * mm.y};
}

Point Layout::canvas_to_field(Point px) const {
    const double sense = examiner_view ? 1.0 : -1.0, scale = sense * field_pixels_per_mm();
    const Point middle = field().centre();
    return {(px.x - middle.x) / scale, (middle.y - px.y) / scale};
}

Point Layout::section_to_canvas(Point mm) const {
    const Point middle = section().centre();
    return {middle.x + kSectionPixelsPerMm * mm.x, middle.y - kSectionPixelsPerMm * (mm.y - kSectionMiddle_mm)};
}

Point Layout::canvas_to_section(Point px) const {
    const Point middle = section().centre();
    return {(px.x - middle.x) / kSectionPixelsPerMm, (middle.y - px.y) / kSectionPixelsPerMm + kSectionMiddle_mm};
}

}  // namespace graftwright
