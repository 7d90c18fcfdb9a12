#include "view/field/console_view.h"

#include <algorithm>
#include <cmath>

#include "base/words.h"
#include "game/console.h"
#include "view/kit/canvas.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

constexpr double kInset = 14.0;
constexpr double kUnderHeading = 112.0;  // where a stage's own part of the console begins

void draw_prompt(Canvas& canvas, const Snapshot& s) {
    const Rect console = s.layout.console();
    const Rect place{console.x + kInset, console.y + 10.0, console.width - 2.0 * kInset, 46.0};
    canvas.paragraph(place, s.prompt, 16.0, palette::kText, Weight::strong);
    if (s.notice.empty()) return;
    const Rect note{console.x + kInset, console.y + 58.0, console.width - 2.0 * kInset, 30.0};
    canvas.panel(note, 7.0, s.warning ? palette::kWarningDeep : palette::kWell,
                 s.warning ? palette::kWarning : palette::kPanelEdge);
    const double left = note.x + (s.warning ? 36.0 : 12.0);
    if (s.warning) canvas.triangle_sign({note.x + 19.0, note.y + 15.0}, 18.0);
    canvas.text({left, note.y + 20.0}, s.notice, 14.5, palette::kText);
}

// A filled bar of a share of its place; nothing where there is nothing to show.
void bar(Canvas& canvas, const Rect& place, double share, Ink colour) {
    canvas.panel(place, place.height / 2.0, palette::kWell, palette::kPanelEdge);
    const double width = (place.width - 2.0) * std::clamp(share, 0.0, 1.0);
    if (width < 2.0) return;
    canvas.panel({place.x + 1.0, place.y + 1.0, width, place.height - 2.0},
                 std::min(place.height / 2.0 - 1.0, width / 2.0), colour, colour);
}

// A horizontal gauge with marks; `shown` 0 … full.
struct Gauge {
    Rect place;
    double full = 1.0;
    [[nodiscard]] double x(double value) const { return place.x + place.width * std::clamp(value / full, 0.0, 1.0); }
};

void draw_tie(Canvas& canvas, const Snapshot& s) {
    const TieView& tie = *s.tie;
    const Rect console = s.layout.console();
    const bool numbers = s.aid(Aid::tension);
    const Gauge gauge{{console.x + kInset, console.y + kUnderHeading, console.width - 2.0 * kInset, 22.0},
                      std::max({60.0, 1.15 * std::max(tie.loop_mN, tie.hand_mN)})};
    canvas.text({gauge.place.x, gauge.place.y - 6.0},
                numbers
                    ? "Thread " + words::number(tie.loop_mN, 1) + " mN   hand " + words::number(tie.hand_mN, 1) + " mN"
                    : "Thread",
                kLeastText, palette::kQuietText);
    if (tie.worked_mN) {
        const std::string at = numbers ? " at " + words::number(*tie.worked_mN, 1) + " mN" : "";
        const bool worked = *tie.worked_mN > 0.0;
        canvas.text({gauge.place.x + gauge.place.width, gauge.place.y - 6.0},
                    worked ? "Slack worked round" + at : "Slack not worked round", kLeastText,
                    worked ? palette::kCalm : palette::kBrass, Align::right);
    }
    bar(canvas, gauge.place, tie.loop_mN / gauge.full,
        tie.loop_mN > tie.cut_limit_mN ? palette::kWarning : palette::kCalm);
    const double hand = gauge.x(tie.hand_mN);
    const Point pointer[] = {
        {hand - 6.0, gauge.place.y - 2.0}, {hand + 6.0, gauge.place.y - 2.0}, {hand, gauge.place.y + 8.0}};
    canvas.fill(pointer, palette::kBrass);
    const auto limit = [&](double value, std::string_view what) {
        if (value >= gauge.full) return;
        const double x = gauge.x(value);
        canvas.line({x, gauge.place.y - 4.0}, {x, gauge.place.y + gauge.place.height + 4.0}, 2.0, palette::kWarning);
        canvas.text({x, gauge.place.y + gauge.place.height + 18.0}, what, kLeastText, palette::kWarning, Align::centre);
    };
    limit(tie.cut_limit_mN, "cuts");
    limit(tie.break_limit_mN, "breaks");
    // Throws as loops, each with the way it was wound.
    double x = gauge.place.x + 12.0;
    const double y = console.y + 168.0;
    for (std::size_t i = 0; i < tie.throws.size(); ++i) {
        const Throw& one = tie.throws[i];
        const bool same = i > 0 && tie.throws[i - 1].clockwise == one.clockwise;
        for (int turn = 0; turn < one.turns; ++turn, x += 13.0) canvas.circle({x, y}, 8.0, 2.4, palette::kText);
        canvas.text({x - 2.0, y + 5.0}, one.clockwise ? "→" : "←", 16.0, same ? palette::kWarning : palette::kCalm);
        x += 30.0;
    }
    const std::string state = tie.kind == KnotKind::locked      ? (tie.square ? "locked, square" : "locked, not square")
                              : tie.kind == KnotKind::sliding   ? "slides: same way twice"
                              : tie.kind == KnotKind::one_throw ? "holds by friction only"
                                                                : "no throw yet";
    canvas.text({console.x + console.width - kInset, y + 5.0},
                state + (tie.kind == KnotKind::locked ? ""
                                                      : "   next: " + std::to_string(tie.next_turns) +
                                                            (tie.next_turns == 1 ? " turn" : " turns")),
                kLeastText, palette::kQuietText, Align::right);
}

void draw_leak(Canvas& canvas, const Snapshot& s) {
    const LeakView& leak = *s.leak;
    const Rect console = s.layout.console();
    double x = console.x + kInset;
    const double y = console.y + 108.0;
    const std::pair<const char*, bool> steps[] = {
        {"saline", leak.saline}, {"swept", leak.swept}, {"dry", leak.dry}, {"stained", leak.stained}};
    for (const auto& [name, done] : steps) {
        canvas.circle({x + 8.0, y}, 8.0, 2.0, done ? palette::kCalm : palette::kQuietText);
        if (done) canvas.disc({x + 8.0, y}, 4.5, palette::kCalm);
        canvas.text({x + 22.0, y + 5.0}, name, 15.0, done ? palette::kText : palette::kQuietText);
        x += 118.0;
    }
    const Gauge gauge{{console.x + kInset, console.y + 140.0, console.width - 2.0 * kInset, 20.0}, 80.0};
    bar(canvas, gauge.place, leak.pressure_mmHg / gauge.full, palette::kCalm);
    // Counting the streams is the trainee's work, unless the level gives numbers.
    std::string seen = leak.stained ? "look round the wound for dark streams" : "not stained yet";
    if (leak.stained && s.aid(Aid::numbers))
        seen = leak.streams.empty()       ? "no stream"
               : leak.streams.size() == 1 ? "one dark stream"
                                          : std::to_string(leak.streams.size()) + " dark streams";
    canvas.text({gauge.place.x, gauge.place.y + 38.0},
                "Eye at " + words::number(leak.pressure_mmHg, 0) + " mmHg: " + seen, 15.0, palette::kText);
}

// Every bite asked for as a cell: filled and numbered where one holds, hollow to come, a wave where loose, a cross
// where cut out; the selected one framed; a thread along the foot of those of a run. More than fit are shown around
// the selected.
void draw_strip(Canvas& canvas, const Snapshot& s, const Rect& place) {
    constexpr std::size_t kMost = 16;
    const std::size_t laid = s.bites.size();
    // Temporary single bites beside a running thread are none of those asked.
    const std::size_t to_come = static_cast<std::size_t>(std::max(0, s.bites_asked - s.bites_counted));
    const std::size_t all = s.scenario->task.pattern == Pattern::interrupted
                                ? std::max<std::size_t>(laid, static_cast<std::size_t>(std::max(1, s.bites_asked)))
                                : std::max<std::size_t>(1, laid + to_come);
    const std::size_t shown = std::min(all, kMost);
    const std::size_t middle = s.selected.value_or(laid > 0 ? laid - 1 : 0);
    const std::size_t first = std::min(middle > shown / 2 ? middle - shown / 2 : 0, all - shown);
    const double pitch = std::min(place.width / static_cast<double>(shown), 44.0);
    for (std::size_t i = first; i < first + shown; ++i) {
        const Rect cell{place.x + pitch * static_cast<double>(i - first), place.y, pitch - 4.0, place.height};
        const Point middle_of = cell.centre();
        const bool there = i < laid, removed = there && s.bites[i].bite.removed, loose = there && s.bites[i].loose;
        const bool slack = there && s.bites[i].slack, run = there && s.bites[i].run;
        const bool selected = s.selected == i;
        canvas.panel(
            cell, 5.0,
            there && !removed && !loose && !slack ? blended(palette::kPanel, palette::kCalm, 0.28) : palette::kWell,
            selected ? palette::kBrass : palette::kPanelEdge);
        if (selected)
            canvas.panel({cell.x - 1.5, cell.y - 1.5, cell.width + 3.0, cell.height + 3.0}, 6.0,
                         faded(palette::kRoom, 0.0), palette::kBrass);
        canvas.text({middle_of.x, middle_of.y + 5.0}, std::to_string(i + 1), kLeastText,
                    there && !removed ? palette::kText : faded(palette::kQuietText, 0.55), Align::centre);
        if (removed) {
            canvas.line({cell.x + 4.0, cell.y + 4.0}, {cell.x + cell.width - 4.0, cell.y + cell.height - 4.0}, 1.8,
                        palette::kQuietText);
            canvas.line({cell.x + 4.0, cell.y + cell.height - 4.0}, {cell.x + cell.width - 4.0, cell.y + 4.0}, 1.8,
                        palette::kQuietText);
        } else if (loose) {
            std::vector<Point> wave;
            for (int k = 0; k <= 12; ++k)
                wave.push_back({cell.x + 3.0 + (cell.width - 6.0) * k / 12.0,
                                cell.y + cell.height - 3.5 + 1.8 * std::sin(k * 1.1)});
            canvas.polyline(wave, 1.6, palette::kWarning);
        } else if (run) {
            const double foot = cell.y + cell.height - 3.5;
            const bool joined = i > first && s.bites[i - 1].run == s.bites[i].run;
            const Point thread[] = {{cell.x + (joined ? -4.0 : 3.0), foot}, {cell.x + cell.width - 2.0, foot}};
            if (slack)
                canvas.dashed(thread, 1.6, palette::kBrass, 5.0, 4.0);
            else
                canvas.polyline(thread, 2.0, palette::kCalm);
        }
    }
}

// What the stage has no gauge of its own for: the chamber, the tissue, the bites.
void draw_state(Canvas& canvas, const Snapshot& s) {
    const Rect console = s.layout.console();
    const double x = console.x + kInset, y = console.y + 104.0, half = (console.width - 2.0 * kInset) / 2.0;
    draw_strip(canvas, s, {x, console.y + 143.0, console.width - 2.0 * kInset + 4.0, 24.0});
    const auto cell = [&](int i, const std::string& what, double share, bool worry) {
        const double left = x + half * i + (i > 0 ? 8.0 : 0.0);
        if (worry) canvas.triangle_sign({left + 8.0, y + 3.0}, 16.0);
        canvas.text({left + (worry ? 22.0 : 0.0), y + 8.0}, what, 15.0, worry ? palette::kWarning : palette::kText);
        bar(canvas, {left, y + 17.0, half - 8.0, 9.0}, share, worry ? palette::kWarning : palette::kCalm);
    };
    // Where a bar turns into a worry: when the eye on the chamber should (a third), and half of what would fill the
    // bar of dragged tissue. For the picture only; the score has rules of its own.
    constexpr double kShallow = 0.35, kLosing = 0.7, kRough_uJ = 15.0, kWorry_uJ = 5.0;
    const bool shallow = s.viscoelastic < kShallow;
    cell(0,
         shallow                    ? "Chamber shallow"
         : s.viscoelastic < kLosing ? "Chamber losing depth"
                                    : "Chamber deep",
         s.viscoelastic, shallow);
    cell(1, "Tissue dragged " + words::number(s.trauma_uJ, 1) + " µJ", s.trauma_uJ / kRough_uJ,
         s.trauma_uJ > kWorry_uJ);
    std::string line;
    if (s.selected && *s.selected < s.bites.size() && s.stage == Stage::aim) {
        const LaidBite& bite = s.bites[*s.selected];
        line = "Bite " + std::to_string(*s.selected + 1) + (bite.run ? ", in a run," : "") + " at " +
               place_words(bite.bite.host_deg);
        if (bite.bite.removed)
            line += ", cut out";
        else if (bite.slack)
            line += ", slack until the run is tied";
        else if (bite.loose)
            line += ", loose";
        else if (s.aid(Aid::tension))
            line += ", " + words::number(bite.tension_mN, 1) + " mN";
    }
    if (s.iris_caught > 0)
        line += (line.empty() ? "" : "   ") + std::string("Iris caught ") + std::to_string(s.iris_caught) + "×";
    if (s.endothelial_touches > 0)
        line += (line.empty() ? "" : "   ") + std::string("Endothelium touched ") +
                std::to_string(s.endothelial_touches) + "×";
    canvas.text({x, console.y + 187.0}, line, kLeastText, palette::kQuietText);
}

// The answer as it stands: which step, and what would be said now.
void draw_answer(Canvas& canvas, const Snapshot& s) {
    const QuestionView& question = *s.question;
    const Rect console = s.layout.console();
    const double x = console.x + kInset, width = console.width - 2.0 * kInset;
    const bool placed = !question.choices.empty() && question.choices.front().at.has_value();
    canvas.text({x, console.y + kUnderHeading},
                "Step " + std::to_string(question.step) + " of " + std::to_string(question.steps) +
                    (placed ? ": click on the eye, or go round with wheel and arrows" : ": one of the two"),
                kLeastText, palette::kQuietText);
    std::string words, before;
    for (const QuestionView::Choice& choice : question.choices) {
        if (!choice.picked) continue;
        words += before + choice.label;
        before = ", ";
    }
    if (question.several)
        words = words.empty() ? "Nothing picked yet" : words;
    else if (question.under_hand < question.choices.size())
        words = question.choices[question.under_hand].label;
    canvas.panel({x, console.y + 122.0, width, 58.0}, 8.0, palette::kWell, palette::kPanelEdge);
    canvas.paragraph({x + 12.0, console.y + 131.0, width - 24.0, 44.0}, words, question.several ? 15.0 : 19.0,
                     palette::kText, Weight::strong);
}

// How far the lesson has come: a row of short strokes along the console's upper edge.
void draw_lesson_bar(Canvas& canvas, const Snapshot& s) {
    const LessonView& lesson = *s.lesson;
    const Rect console = s.layout.console();
    const double pitch = (console.width - 2.0 * kInset) / lesson.steps;
    for (int i = 0; i < lesson.steps; ++i) {
        const double x = console.x + kInset + pitch * i;
        const Ink colour = i + 1 < lesson.step    ? palette::kCalm
                           : i + 1 == lesson.step ? palette::kBrass
                                                  : palette::kWell;
        canvas.line({x + 1.0, console.y + 6.0}, {x + pitch - 3.0, console.y + 6.0}, i + 1 == lesson.step ? 4.0 : 2.4,
                    colour);
    }
}

// Keys as they are engraved: arrows for the arrow keys, the short names of the long ones.
std::string engraved(const std::string& key) {
    if (const std::string_view arrow = arrow_sign(key); !arrow.empty()) return std::string(arrow);
    static constexpr std::pair<std::string_view, std::string_view> kShort[] = {
        {"Backspace", "Bksp"}, {"Delete", "Del"}, {"PageUp", "PgUp"}, {"PageDown", "PgDn"}, {"Return", "Enter"}};
    for (const auto& [name, shown] : kShort)
        if (key == name) return std::string(shown);
    return key;
}

}  // namespace

void draw_header(Canvas& canvas, const Snapshot& s) {
    const Rect header = s.layout.header();
    canvas.panel(header, 0.0, palette::kPanel, faded(palette::kRoom, 0.0));
    const std::string title = s.scenario->title.empty() ? s.scenario->id : s.scenario->title;
    canvas.text({16.0, 26.0}, title, 17.0, palette::kText, Align::left, Weight::strong);
    canvas.text({header.width / 2.0, 26.0}, std::string(s.title) + (s.paused ? ", paused" : ""), 16.0,
                palette::kBrass, Align::centre, Weight::strong);
    const std::optional<double> limit = s.scenario->task.time_limit_s;
    const std::string clock = words::clock(s.time_s) + (limit ? " of " + words::clock(*limit) : "");
    canvas.text({header.width - 16.0, 26.0}, clock, 17.0,
                limit && s.time_s > 0.9 * *limit ? palette::kWarning : palette::kText, Align::right, Weight::strong);
    canvas.text({header.width - 120.0, 26.0}, "Esc: menu", kLeastText, palette::kQuietText, Align::right);
    const bool runs = s.scenario->task.pattern != Pattern::interrupted;
    const int holding = runs ? s.bites_counted : s.bites_in_place();
    const bool tying = s.stage == Stage::tie;  // then the bite in hand stands among them already
    const int now = std::min(holding + (tying || s.stage == Stage::bury ? 0 : 1), s.bites_asked);
    const bool tying_run = s.tie && s.tie->worked_mN;
    const bool working = s.stage <= Stage::bury && !tying_run && holding < s.bites_asked + (tying ? 1 : 0);
    const std::string bites = working ? "Bite " + std::to_string(now) + " of " + std::to_string(s.bites_asked)
                                      : std::to_string(holding) + " of " + std::to_string(s.bites_asked) + " bites";
    canvas.text({header.width - 232.0, 26.0}, bites, 16.0, palette::kText, Align::right, Weight::strong);
}

void draw_foot(Canvas& canvas, const Snapshot& s) {
    const Rect foot = s.layout.foot();
    canvas.text({foot.x + 4.0, foot.y + 21.0}, words::kCaution, kLeastText, palette::kQuietText);
}

void draw_buttons(Canvas& canvas, const Snapshot& s) {
    for (const ConsoleButton& button : s.buttons) {
        const Rect& place = button.place;
        const bool first = button.command == Command::primary && button.enabled;
        const Ink fill = button.lit ? palette::kBrassDeep
                         : first    ? blended(palette::kBrassDeep, palette::kButton, 0.35)
                                    : palette::kButton;
        canvas.panel(place, 7.0, button.enabled ? fill : faded(fill, 0.45),
                     button.lit || first ? palette::kBrass : palette::kButtonEdge);
        const Ink ink = button.enabled ? palette::kText : faded(palette::kQuietText, 0.55);
        const double base = place.y + place.height / 2.0 + 5.0, inside = place.width - 14.0;
        const bool strong = first && canvas.text_width(button.label, kLeastText, Weight::strong) <= inside;
        const double used = canvas.text({place.x + 8.0, base}, button.label, kLeastText, ink, Align::left,
                                        strong ? Weight::strong : Weight::regular);
        // What the lesson asks for: a wedge in the corner, besides the edge.
        if (button.asked) {
            const Point wedge[] = {{place.x, place.y}, {place.x + 13.0, place.y}, {place.x, place.y + 13.0}};
            canvas.fill(wedge, palette::kBrass);
            canvas.panel({place.x - 1.0, place.y - 1.0, place.width + 2.0, place.height + 2.0}, 8.0,
                         faded(palette::kRoom, 0.0), palette::kBrass);
        }
        // A latch that is on: a notch of light along its foot, besides the colour.
        if (button.lit)
            canvas.line({place.x + 8.0, place.y + place.height - 4.0},
                        {place.x + place.width - 8.0, place.y + place.height - 4.0}, 2.0, palette::kBrass);
        const std::string key = engraved(button.key);
        if (!key.empty() && used + 5.0 + canvas.text_width(key, kLeastText) <= inside)
            canvas.text({place.x + place.width - 7.0, base}, key, kLeastText,
                        faded(palette::kQuietText, button.enabled ? 0.85 : 0.4), Align::right);
    }
}

void draw_console(Canvas& canvas, const Snapshot& s) {
    canvas.panel(s.layout.console(), 8.0, palette::kPanel, palette::kPanelEdge);
    draw_prompt(canvas, s);
    if (s.lesson) draw_lesson_bar(canvas, s);
    if (s.question)
        draw_answer(canvas, s);
    else if (s.tie)
        draw_tie(canvas, s);
    else if (s.leak)
        draw_leak(canvas, s);
    else
        draw_state(canvas, s);
    draw_buttons(canvas, s);
}

}  // namespace graftwright
