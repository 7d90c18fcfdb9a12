// Where things stand on the screen, in design pixels: a canvas of 1280 × 800 that every window scales.
//
// A window of w × h shows the canvas enlarged by min(w/1280, h/800), centred. Pointer positions of
// scripted hands and of the journal are design pixels, so they mean the same on every screen. Field and
// section are both always in view; left-handed mode swaps the sides. Text is 14 design pixels at least.
#pragma once

#include "base/point.h"
#include "base/rect.h"

namespace graftwright {

inline constexpr double kCanvasWidth = 1280.0, kCanvasHeight = 800.0;
inline constexpr double kFieldReach_mm = 6.6;         // from the field's centre to its edge
inline constexpr double kSectionPixelsPerMm = 200.0;  // design's least: true to scale, both ways alike

struct Layout {
    bool left_handed = false;
    bool examiner_view = false;  // false: surgeon's view, 6 o'clock at the top

    [[nodiscard]] Rect header() const { return {0.0, 0.0, kCanvasWidth, 40.0}; }
    [[nodiscard]] Rect field() const { return {left_handed ? 558.0 : 8.0, 44.0, 714.0, 714.0}; }
    [[nodiscard]] Rect section() const { return {left_handed ? 8.0 : 730.0, 44.0, 542.0, 340.0}; }
    [[nodiscard]] Rect console() const { return {left_handed ? 8.0 : 730.0, 392.0, 542.0, 404.0}; }
    [[nodiscard]] Rect foot() const { return {field().x, 762.0, field().width, 34.0}; }  // the caution's line

    // Field: mm in the eye's plane (examiner's frame, x toward 0°, y toward 90°) ↔ canvas.
    [[nodiscard]] double field_pixels_per_mm() const { return field().width / (2.0 * kFieldReach_mm); }
    [[nodiscard]] Point field_to_canvas(Point mm) const;
    [[nodiscard]] Point canvas_to_field(Point px) const;
    // Section: mm of the section frame (hand/needle.h) ↔ canvas. Donor left, host right, wound in the middle.
    [[nodiscard]] Point section_to_canvas(Point mm) const;
    [[nodiscard]] Point canvas_to_section(Point px) const;
};

}  // namespace graftwright
