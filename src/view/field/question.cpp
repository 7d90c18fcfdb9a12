// The choices of a drill's question, where they lie on the eye.
#include <algorithm>
#include <cmath>

#include "view/field/field_pen.h"

namespace graftwright {
namespace {

constexpr double kOutward_px = 26.0;  // of the label's near edge from the mark

// Small and quiet: a ring about a bite's exit, a dot on the wound.
void mark(const FieldPen& pen, const QuestionView::Choice& choice) {
    const Point at = pen.px(*choice.at);
    if (choice.bite) {
        pen.canvas.circle(at, 9.0, 4.0, faded(palette::kRoom, 0.5));
        pen.canvas.circle(at, 9.0, 1.8, faded(palette::kText, 0.8));
    } else {
        pen.canvas.disc(at, 4.6, faded(palette::kRoom, 0.6));
        pen.canvas.disc(at, 2.8, faded(palette::kText, 0.85));
    }
    if (!choice.picked) return;
    pen.canvas.disc(at, 10.0, palette::kBrassDeep);
    const Point tick[] = {{at.x - 5.0, at.y + 0.5}, {at.x - 1.5, at.y + 4.5}, {at.x + 5.5, at.y - 4.5}};
    pen.canvas.polyline(tick, 2.4, palette::kText);
}

void under_hand(const FieldPen& pen, const QuestionView::Choice& choice) {
    const Point at = pen.px(*choice.at), middle = pen.px(Point{0.0, 0.0});
    pen.canvas.circle(at, 15.0, 5.0, faded(palette::kRoom, 0.75));
    pen.canvas.circle(at, 15.0, 2.6, palette::kBrass);
    const Point out = unit(middle, at);
    const double width = pen.canvas.text_width(choice.label, 15.0, Weight::strong) + 20.0, height = 26.0;
    Point centre = plus(at, out, kOutward_px + std::abs(out.x) * width / 2.0 + std::abs(out.y) * height / 2.0);
    const Rect field = pen.snapshot.layout.field();
    centre.x = std::clamp(centre.x, field.x + width / 2.0 + 6.0, field.x + field.width - width / 2.0 - 6.0);
    centre.y = std::clamp(centre.y, field.y + height / 2.0 + 40.0, field.y + field.height - height / 2.0 - 40.0);
    pen.canvas.panel({centre.x - width / 2.0, centre.y - height / 2.0, width, height}, 7.0, faded(palette::kRoom, 0.9),
                     palette::kBrass);
    pen.canvas.text({centre.x, centre.y + 5.5}, choice.label, 15.0, palette::kText, Align::centre, Weight::strong);
}

}  // namespace

void draw_question(const FieldPen& pen) {
    if (!pen.snapshot.question) return;
    const QuestionView& question = *pen.snapshot.question;
    for (const QuestionView::Choice& choice : question.choices)
        if (choice.at) mark(pen, choice);
    if (question.under_hand < question.choices.size() && question.choices[question.under_hand].at)
        under_hand(pen, question.choices[question.under_hand]);
}

}  // namespace graftwright
