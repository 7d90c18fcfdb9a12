// The three pictures of the debrief's first page, each with the words that go with it; see debrief_screen.h.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/words.h"
#include "figure/words.h"
#include "score/bite_words.h"
#include "view/debrief/debrief_screen.h"
#include "view/kit/pen.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

constexpr double kPlotTop = 42.0, kLegendLine = 19.0;

// Between a panel's heading and the lines of its legend.
Rect plot_place(const Rect& panel, int legend_lines) {
    return {panel.x + 14.0, panel.y + kPlotTop, panel.width - 28.0,
            panel.height - kPlotTop - legend_lines * kLegendLine - 12.0};
}
Point legend_place(const Rect& panel, int line, int of) {
    return {panel.x + 18.0, panel.y + panel.height - 10.0 - (of - line - 0.5) * kLegendLine};
}

// A legend whose lines have room for a mark before them.
class Legend {
  public:
    Legend(const PlotPen& pen, const Rect& panel, int lines, double mark_room)
        : pen_(pen), panel_(panel), lines_(lines), room_(mark_room) {}
    // Writes the next line and returns the middle of its mark.
    Point line(const std::string& words, Tone colour = tone::text) {
        const Point at = legend_place(panel_, next_++, lines_);
        pen_.words({at.x + room_, at.y}, words, Face::small, ink(colour));
        return {at.x + (room_ - 8.0) / 2.0, at.y};
    }

  private:
    const PlotPen& pen_;
    Rect panel_;
    int lines_, next_ = 0;
    double room_;
};

void say_nothing_there(const PlotPen& pen, const Rect& plot, const char* words) {
    pen.words(plot.centre(), words, Face::body, ink(tone::quiet), WordsAt::middle);
}

void head(const PlotPen& pen, const Rect& place, const std::string& words, const char* aside = "") {
    pen.words({place.x + 18.0, place.y + 23.0}, words, Face::strong, ink(tone::text));
    pen.words({place.x + place.width - 16.0, place.y + 23.0}, aside, Face::small, ink(tone::quiet), WordsAt::right);
}

// Lines of the clock's legend.
int clock_lines(const LeakClock& clock) { return clock.spans.empty() ? 4 : 5; }

void write_clock_legend(const PlotPen& pen, const Rect& place, const LeakClock& clock) {
    const WoundTest& test = clock.test;
    Legend legend(pen, place, clock_lines(clock), 34.0);
    const Point eye = legend.line(fmt::format("eye's pressure, {:g} mmHg", clock.eye_mmHg));
    pen.line({eye.x - 11.0, eye.y}, {eye.x + 11.0, eye.y}, ink(tone::text), 1.6);
    if (clock.asked_mmHg) {
        const Point asked = legend.line(fmt::format("asked of the leak test, {:g} mmHg", *clock.asked_mmHg));
        pen.dashes({asked.x - 11.0, asked.y}, {asked.x + 11.0, asked.y}, ink(tone::text), 1.6, 4.0);
    }
    if (test.capped) {
        static_cast<void>(
            legend.line(fmt::format("raised further, holds beyond {:.0f} mmHg", test.leak_pressure_mmHg)));
    } else {
        const Point opens = legend.line(fmt::format("raised further, opens at {:.1f} mmHg at {}",
                                                    test.leak_pressure_mmHg, place_words(test.weakest_deg)));
        pen.arrow({opens.x - 11.0, opens.y}, {opens.x + 11.0, opens.y}, ink(tone::warning), 2.6, 10.0);
    }
    const bool leaks = test.leak_uL_min > 0.0;
    static_cast<void>(legend.line(leaks ? fmt::format("leaks {:.1f} µL/min, the eye settles at {:.0f} mmHg",
                                                      test.leak_uL_min, test.settled_pressure_mmHg)
                                        : std::string("watertight at that pressure; square-root scale"),
                                  leaks ? tone::warning : tone::quiet));
    if (clock.spans.empty()) return;
    const Point run = legend.line("running thread, its knot");
    pen.line({run.x - 11.0, run.y + 3.0}, {run.x + 11.0, run.y - 3.0}, ink(tone::text), 1.8);
    pen.disc(run, 4.2, ink(tone::text));
}

}  // namespace

void DebriefScreen::draw_map_panel(Ui& ui, const Snapshot& shot, const Rect& place) {
    const Debrief& debrief = *shot.debrief;
    const bool twin = twin_shown(debrief);
    const auto& wound = twin ? debrief.twin : debrief.wound;
    const std::unique_ptr<PowerMapPlot>& map = twin ? twin_map_ : map_;
    ui.begin_panel("map", place, tone::panel, 14.0, false);
    const PlotPen pen(ui);
    const char* const what = picture_ == 1 ? (twin ? "Ideal twin's rings" : "Mirrored rings")
                                           : (twin ? "Ideal twin's power" : "Corneal power");
    head(pen, place, what);
    ui.move_to(place.x + place.width - 158.0, place.y + 7.0);
    ui.choose({"Map", "Rings"}, picture_, 70.0);
    const Rect plot = plot_place(place, 3);
    if (picture_ == 1 && wound && !wound->rings.empty())
        draw_rings(ui, plot, *wound);
    else if (picture_ == 0 && map)
        map->draw(ui, plot, measures(debrief).keratometry, shot.scenario->eye.side);
    else
        say_nothing_there(pen, plot, "not worked out for this closure");
    if (const auto& k = measures(debrief).keratometry) {
        pen.words(legend_place(place, 0, 3),
                  fmt::format("steep {:.1f} D @ {}, flat {:.1f} D @ {}", k->steep_D, whole_axis_deg(k->steep_axis_deg),
                              k->flat_D, whole_axis_deg(k->steep_axis_deg + 90.0)),
                  Face::small, ink(tone::text));
        pen.words(legend_place(place, 1, 3), fmt::format("cylinder {:.1f} D, mean {:.1f} D", k->cylinder_D, k->mean_D),
                  Face::small, ink(tone::text));
    }
    pen.words(legend_place(place, 2, 3),
              picture_ == 0 ? "examiner's view; dashed: 3 mm ring; line: steep axis"
                            : "examiner's view; dashes outside: steep axis",
              Face::small, ink(tone::quiet));
    ui.end_panel();
}

void DebriefScreen::draw_share_panel(Ui& ui, const Rect& place) const {
    ui.begin_panel("shares", place, tone::panel, 14.0, false);
    const PlotPen pen(ui);
    head(pen, place, "What each bite costs", "D, on the doubled steep axis");
    const int lines = runs_.empty() ? 4 : 5;
    const Rect plot = plot_place(place, lines);
    if (shares_) {
        draw_double_angle(ui, plot, *shares_, chosen_);
        Legend legend(pen, place, lines, 22.0);
        pen.disc(legend.line("this attempt " + cylinder_words(shares_->attempt)), 4.0, ink(tone::text));
        pen.circle(legend.line("ideal twin " + cylinder_words(*shares_->ideal)), 4.0, ink(tone::text), 1.8);
        const Point sum = legend.line("twin and all shares; they sum to " + cylinder_words(shares_->sum));
        pen.box({sum.x - 4.0, sum.y - 4.0, 8.0, 8.0}, ink(tone::quiet));
        const Point left = legend.line("left over, no single bite's: " + cylinder_words(shares_->left_over()));
        pen.line({left.x - 6.0, left.y}, {left.x + 6.0, left.y}, ink(tone::warning), 2.0);
        if (!runs_.empty()) {
            const bool named = chosen_ && *chosen_ < bites_.size();
            static_cast<void>(legend.line(named ? "chosen: " + bite_name(bites_, *chosen_) : "numbers " + runs_,
                                          named ? tone::text : tone::quiet));
        }
    } else {
        say_nothing_there(pen, plot, "the shares were not worked out");
    }
    ui.end_panel();
}

void DebriefScreen::draw_seal_panel(Ui& ui, const Debrief& debrief, const Rect& place) const {
    ui.begin_panel("seal", place, tone::panel, 14.0, false);
    const PlotPen pen(ui);
    const bool twin = twin_shown(debrief);
    head(pen, place, twin ? "Ideal twin's seal" : "Seal by the clock", "examiner's view");
    const std::optional<LeakClock>& clock = twin ? twin_clock_ : clock_;
    const Rect plot = plot_place(place, clock ? clock_lines(*clock) : 4);
    if (clock) {
        draw_leak_clock(ui, plot, *clock);
        write_clock_legend(pen, place, *clock);
    } else {
        say_nothing_there(pen, plot, "not worked out for this closure");
    }
    ui.end_panel();
}

}  // namespace graftwright
