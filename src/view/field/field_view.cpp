#include "view/field/field_view.h"

#include "view/field/field_pen.h"
#include "view/kit/canvas.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

constexpr double kMargin = 12.0;

// A short line in a corner of the field, on a dark tab so that it reads over sclera too.
void corner_note(Canvas& canvas, const Rect& field, std::string_view words, bool right, bool bottom, int row,
                 Ink colour, bool warning = false) {
    constexpr double kTab = 24.0;
    const double sign_width = warning ? 22.0 : 0.0;
    const double width = canvas.text_width(words, kLeastText) + 16.0 + sign_width;
    const double x = right ? field.x + field.width - kMargin - width : field.x + kMargin;
    const double y = bottom ? field.y + field.height - kMargin - kTab * (row + 1) - 4.0 * row
                            : field.y + kMargin + (kTab + 4.0) * row;
    canvas.panel({x, y, width, kTab}, 7.0, faded(palette::kRoom, 0.78), faded(palette::kPanelEdge, 0.6));
    if (warning) canvas.triangle_sign({x + 17.0, y + 12.0}, 17.0);
    canvas.text({x + 8.0 + sign_width, y + 17.0}, words, kLeastText, colour);
}

void draw_notes(const FieldPen& pen) {
    const Snapshot& s = pen.snapshot;
    const Rect field = s.layout.field();
    corner_note(pen.canvas, field,
                s.layout.examiner_view ? "Examiner's view: 12 o'clock up" : "Surgeon's view: 6 o'clock up", false,
                false, 0, palette::kQuietText);
    if (s.wound && !s.wound->rings.empty() && !(s.leak && s.leak->stained)) {
        if (s.wound->rigid)
            corner_note(pen.canvas, field, "Rings of the donor as cut", true, false, 0, palette::kQuietText);
        else
            corner_note(pen.canvas, field, "Rings at " + words::number(s.wound->pressure_mmHg, 0) + " mmHg", true,
                        false, 0, palette::kQuietText);
        if (s.wound_is_old)
            corner_note(pen.canvas, field, "Older picture, being renewed", true, true, 0, palette::kBrass);
    }
    if (s.wound && !s.wound->rigid && !s.wound->converged)
        corner_note(pen.canvas, field, "The wound finds no balance", true, false, 1, palette::kWarning, true);
    if (s.iris_in_wound)
        corner_note(pen.canvas, field, "Iris in the wound", true, true, s.wound_is_old ? 1 : 0, palette::kWarning,
                    true);
}

}  // namespace

void FieldView::update(Canvas& canvas, const Snapshot& snapshot, double device_scale) {
    eye_.update(canvas, snapshot, snapshot.layout.field().width * device_scale);
}

void FieldView::draw(Canvas& canvas, const Snapshot& snapshot) const {
    const Rect field = snapshot.layout.field();
    const WoundOutline outline(snapshot);
    const FieldPen pen{canvas, snapshot, outline};
    canvas.clip(field);
    eye_.draw(canvas, field);
    draw_folds(pen);
    draw_wound(pen);
    draw_marks(pen);
    draw_streams(pen);
    draw_rings(pen);
    draw_tension_lines(pen);
    draw_threads(pen);
    if (snapshot.aid(Aid::clock)) draw_clock_hours(pen);
    draw_question(pen);
    draw_aim(pen);
    draw_thread_in_hand(pen);
    draw_forceps(pen);
    draw_needle(pen);
    draw_notes(pen);
    canvas.unclip();
    canvas.panel(field, 3.0, faded(palette::kRoom, 0.0), palette::kPanelEdge);
}

}  // namespace graftwright
