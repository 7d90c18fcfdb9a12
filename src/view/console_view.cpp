#include "view/console_view.h"

#include <algorithm>
#include <cmath>

#include "game/console.h"
#include "view/canvas.h"
#include "view/words.h"

namespace graftwright {
namespace {

constexpr double kInset = 14.0;

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
    canvas.panel({place.x + 1.0, place.y + 1.0, width, place.height - 2.0}, std::min(place.height / 2.0 - 1.0, width / 2.0),
                 colour, colour);
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
    const bool numbers = s.aid("tension");
    const Gauge gauge{{console.x + kInset, console.y + 112.0, console.width - 2.0 * kInset, 22.0},
                      std::max({60.0, 1.15 * std::max(tie.loop_mN, tie.hand_mN)})};
    canvas.text({gauge.place.x, gauge.place.y - 6.0},
                numbers ? "Thread " + words::number(tie.loop_mN, 1) + " mN   hand " + words::number(tie.hand_mN, 1) + " mN"
                        : "Thread",
                kLeastText, palette::kQuietText);
    bar(canvas, gauge.place, tie.loop_mN / gauge.full,
        tie.loop_mN > tie.cut_limit_mN ? palette::kWarning : palette::kCalm);
    const double hand = gauge.x(tie.hand_mN);
    const Point pointer[] = {{hand - 6.0, gauge.place.y - 2.0}, {hand + 6.0, gauge.place.y - 2.0}, {hand, gauge.place.y + 8.0}};
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
    const std::string state = tie.kind == KnotKind::locked    ? (tie.square ? "locked, square" : "locked, not square")
                              : tie.kind == KnotKind::sliding ? "slides: same way twice"
                              : tie.kind == KnotKind::one_throw ? "holds by friction only"
                                                                : "no throw yet";
    canvas.text({console.x + console.width - kInset, y + 5.0},
                state + (tie.kind == KnotKind::locked ? "" : "   next: " + std::to_string(tie.next_turns) +
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
    const std::string seen = leak.streams.empty() ? "no stream seen"
                             : leak.streams.size() == 1
                                 ? "one dark stream"
                                 : std::to_string(leak.streams.size()) + " dark streams";
    canvas.text({gauge.place.x, gauge.place.y + 38.0},
                "Eye at " + words::number(leak.pressure_mmHg, 0) + " mmHg: " + (leak.stained ? seen : "not stained yet"),
                15.0, palette::kText);
}

// What the stage has no gauge of its own for: the chamber, the tissue, the bites.
void draw_state(Canvas& canvas, const Snapshot& s) {
    const Rect console = s.layout.console();
    const double y = console.y + 114.0, third = (console.width - 2.0 * kInset) / 3.0;
    const auto cell = [&](int i, std::string_view what, const std::string& value, double share, bool worry) {
        const double x = console.x + kInset + third * i;
        canvas.text({x, y}, what, kLeastText, palette::kQuietText);
        canvas.text({x, y + 22.0}, value, 16.0, worry ? palette::kWarning : palette::kText, Align::left, Weight::strong);
        bar(canvas, {x, y + 32.0, third - 18.0, 9.0}, share, worry ? palette::kWarning : palette::kCalm);
    };
    const auto in_place = static_cast<double>(std::count_if(s.bites.begin(), s.bites.end(),
                                                            [](const LaidBite& bite) { return !bite.bite.removed; })) -
                          (s.tie ? 1.0 : 0.0);
    cell(0, "Bites in place", words::number(in_place, 0) + " of " + std::to_string(s.bites_asked),
         in_place / std::max(1, s.bites_asked), false);
    const bool shallow = s.viscoelastic < 0.35;
    cell(1, "Chamber", shallow ? "shallow" : s.viscoelastic < 0.7 ? "losing depth" : "deep", s.viscoelastic, shallow);
    constexpr double kRough_uJ = 15.0;  // three counted marks: the technique rule gives nothing any more
    cell(2, "Tissue dragged", words::number(s.trauma_uJ, 1) + " µJ", s.trauma_uJ / kRough_uJ, s.trauma_uJ > 5.0);
    if (s.selected && *s.selected < s.bites.size() && s.stage == Stage::aim) {
        const LaidBite& bite = s.bites[*s.selected];
        std::string words = "Selected: bite " + std::to_string(*s.selected + 1) + ", " + words::hour(bite.bite.host_deg) + " o'clock";
        if (bite.bite.removed) words += ", cut out";
        else if (s.aid("tension")) words += ", now " + words::number(bite.tension_mN, 1) + " mN";
        canvas.text({console.x + kInset, y + 66.0}, words, kLeastText, palette::kQuietText);
    }
}

}  // namespace

void draw_header(Canvas& canvas, const Snapshot& s) {
    const Rect header = s.layout.header();
    canvas.panel(header, 0.0, palette::kPanel, faded(palette::kRoom, 0.0));
    const std::string title = s.scenario->title.empty() ? s.scenario->id : s.scenario->title;
    canvas.text({16.0, 26.0}, title, 17.0, palette::kText, Align::left, Weight::strong);
    canvas.text({header.width / 2.0, 26.0}, std::string(words::stage(s.stage)) + (s.paused ? ", paused" : ""), 16.0,
                palette::kBrass, Align::centre, Weight::strong);
    const std::optional<double> limit = s.scenario->task.time_limit_s;
    const std::string clock = words::clock(s.time_s) + (limit ? " of " + words::clock(*limit) : "");
    canvas.text({header.width - 16.0, 26.0}, clock, 17.0, limit && s.time_s > 0.9 * *limit ? palette::kWarning : palette::kText,
                Align::right, Weight::strong);
    canvas.text({header.width - 150.0, 26.0}, "Esc: menu", kLeastText, palette::kQuietText, Align::right);
}

void draw_foot(Canvas& canvas, const Snapshot& s) {
    const Rect foot = s.layout.foot();
    canvas.text({foot.x + 4.0, foot.y + 21.0}, words::kCaution, kLeastText, palette::kQuietText);
}

void draw_buttons(Canvas& canvas, const Snapshot& s) {
    for (const ConsoleButton& button : s.buttons) {
        const bool first = button.command == Command::primary && button.enabled;
        const Ink fill = button.lit ? palette::kBrassDeep : first ? blended(palette::kBrassDeep, palette::kButton, 0.35) : palette::kButton;
        canvas.panel(button.place, 7.0, button.enabled ? fill : faded(fill, 0.45),
                     button.lit || first ? palette::kBrass : palette::kButtonEdge);
        const Ink ink = button.enabled ? palette::kText : faded(palette::kQuietText, 0.55);
        const double base = button.place.y + button.place.height / 2.0 + 5.0;
        canvas.text({button.place.x + 8.0, base}, button.label, kLeastText, ink, Align::left, first ? Weight::strong : Weight::regular);
        if (button.lit) canvas.disc({button.place.x + button.place.width - 8.0, button.place.y + 8.0}, 3.5, palette::kBrass);
        const double room = button.place.width - 20.0 - canvas.text_width(button.label, kLeastText);
        if (!button.key.empty() && canvas.text_width(button.key, kLeastText) < room)
            canvas.text({button.place.x + button.place.width - 7.0, base}, button.key, kLeastText,
                        faded(palette::kQuietText, button.enabled ? 0.8 : 0.4), Align::right);
    }
}

void draw_console(Canvas& canvas, const Snapshot& s) {
    canvas.panel(s.layout.console(), 8.0, palette::kPanel, palette::kPanelEdge);
    draw_prompt(canvas, s);
    if (s.tie)
        draw_tie(canvas, s);
    else if (s.leak)
        draw_leak(canvas, s);
    else
        draw_state(canvas, s);
    draw_buttons(canvas, s);
}

}  // namespace graftwright
