#include "report/eye_frame.h"

#include <fmt/format.h>

namespace graftwright {

void draw_eye_frame(SvgCanvas& canvas, const EyeFrame& frame, Side side) {
    canvas.circle(frame.centre, frame.radius_px, "none", {kInk, 1.5, ""});
    for (int deg = 0; deg < 360; deg += 10) {
        const double length = deg % 30 == 0 ? 7 : 4;
        canvas.line(around(frame.centre, frame.radius_px, deg), around(frame.centre, frame.radius_px + length, deg),
                    {kInk, deg % 30 == 0 ? 1.5 : 1.0, ""});
        if (deg % 30 != 0) continue;
        CanvasPoint at = around(frame.centre, frame.radius_px + 18, deg);
        at.y += 4;
        canvas.text(at, fmt::format("{}°", deg), {12.0, Lettering::Anchor::middle, false, kSoftInk, false});
    }
    // The patient faces the examiner: the nose is on the examiner's right of a right eye.
    const bool right_eye = side == Side::right;
    const double below = frame.centre.y + frame.radius_px + 20;
    const Lettering word{12.5, Lettering::Anchor::start, true, kInk, false};
    canvas.text({frame.centre.x - frame.radius_px - 22, below}, right_eye ? "temporal" : "nasal", word);
    Lettering end = word;
    end.anchor = Lettering::Anchor::end;
    canvas.text({frame.centre.x + frame.radius_px + 22, below}, right_eye ? "nasal" : "temporal", end);
    // One millimetre, at the lower left.
    const double from = frame.centre.x - frame.radius_px - 22, y = frame.centre.y - frame.radius_px - 14;
    canvas.line({from, y}, {from + frame.px(1), y}, {kInk, 2.0, ""});
    canvas.line({from, y - 4}, {from, y + 4}, {kInk, 2.0, ""});
    canvas.line({from + frame.px(1), y - 4}, {from + frame.px(1), y + 4}, {kInk, 2.0, ""});
    canvas.text({from + frame.px(0.5), y - 5}, "1 mm", {12.0, Lettering::Anchor::middle, false, kInk, false});
}

}  // namespace graftwright
