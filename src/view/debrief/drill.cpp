// The debrief's page of a drill: its marks in words, and for a question the wound before and after the answer.
#include <algorithm>

#include <fmt/format.h>

#include "base/words.h"
#include "figure/words.h"
#include "score/pass_marks.h"
#include "view/debrief/debrief_screen.h"
#include "view/kit/pen.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

constexpr double kBetween = 12.0, kWordsWidth = 436.0;

void draw_words(Ui& ui, const Rect& place, const DrillVerdict& drill) {
    ui.begin_panel("drill", place, tone::panel, 20.0);
    ui.text("What was asked", Face::strong);
    ui.gap(6.0);
    for (const PassMark& mark : drill.marks) {
        // Shape as well as colour tells what was missed.
        const Tone colour = mark.met() ? tone::text : tone::warning;
        ui.wrapped((mark.met() ? "○  " : "▲  ") + mark.name(), Face::body, colour, place.width - 40.0);
        ui.text(fmt::format("     {}, {} {:g} asked: {}", with_unit(words::number(mark.measured, 2), mark.unit()),
                            mark.at_least() ? "at least" : "at most", mark.limit, mark.met() ? "met" : "missed"),
                Face::body, colour);
        ui.gap(6.0);
    }
    ui.gap(10.0);
    ui.text("What solving again has shown", Face::strong);
    ui.gap(6.0);
    for (const std::string& line : drill.words) {
        const bool told = std::any_of(drill.marks.begin(), drill.marks.end(),
                                      [&](const PassMark& mark) { return mark_words(mark) == line; });
        if (told) continue;
        ui.wrapped(line, Face::body, tone::text, place.width - 40.0);
        ui.gap(4.0);
    }
    ui.end_panel();
}

void draw_one(Ui& ui, const Rect& place, const char* head, const Snapshot& shot, const LiveWound* wound,
              const ClosureMeasures* measures) {
    ui.begin_panel(head, place, tone::panel, 14.0, false);
    const PlotPen pen(ui);
    pen.words({place.x + 18.0, place.y + 23.0}, head, Face::strong, ink(tone::text));
    pen.words({place.x + place.width - 16.0, place.y + 23.0}, "examiner's view", Face::small, ink(tone::quiet),
              WordsAt::right);
    const Rect plot{place.x + 14.0, place.y + 42.0, place.width - 28.0, place.height - 42.0 - 58.0};
    const double below = place.y + place.height;
    if (wound == nullptr || measures == nullptr || !wound->converged || !measures->keratometry) {
        pen.words(plot.centre(),
                  measures != nullptr && !measures->status.converged ? measures->status.reason : "nothing to show",
                  Face::body, ink(tone::quiet), WordsAt::middle);
        ui.end_panel();
        return;
    }
    const std::optional<LeakClock> clock =
        shot.scenario->kind == ScenarioKind::find_leak ? leak_clock(*shot.scenario, *measures) : std::nullopt;
    if (clock)
        draw_leak_clock(ui, plot, *clock);
    else
        draw_rings(ui, plot, *wound);
    pen.words({place.x + 18.0, below - 40.0},
              fmt::format("cylinder {:.2f} D, steep at {}", measures->keratometry->cylinder_D,
                          whole_axis_deg(measures->keratometry->steep_axis_deg)),
              Face::small, ink(tone::text));
    if (measures->wound.leak_pressure_mmHg > 0.0)
        pen.words({place.x + 18.0, below - 19.0},
                  fmt::format("leaks at {:.1f} mmHg, first at {}", measures->wound.leak_pressure_mmHg,
                              place_words(measures->wound.weakest_deg)),
                  Face::small, ink(tone::text));
    ui.end_panel();
}

}  // namespace

void draw_drill(Ui& ui, const Rect& place, const Snapshot& shot) {
    const Debrief& debrief = *shot.debrief;
    const DrillVerdict& drill = *debrief.drill;
    if (!drill.before) {
        draw_words(ui, place, drill);
        return;
    }
    draw_words(ui, {place.x, place.y, kWordsWidth, place.height}, drill);
    const double each = (place.width - kWordsWidth - 2.0 * kBetween) / 2.0;
    draw_one(ui, {place.x + kWordsWidth + kBetween, place.y, each, place.height}, "As it was", shot,
             debrief.posed.get(), drill.before.get());
    draw_one(ui, {place.x + kWordsWidth + each + 2.0 * kBetween, place.y, each, place.height}, "With your answer", shot,
             debrief.answered.get(), drill.after.get());
}

}  // namespace graftwright
