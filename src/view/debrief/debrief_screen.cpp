#include "view/debrief/debrief_screen.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/words.h"
#include "score/bite_words.h"
#include "score/bites_in_order.h"
#include "view/kit/pen.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

constexpr double kEdge = 24.0, kWidth = kCanvasWidth - 2.0 * kEdge;
constexpr double kAdviceTop = 60.0, kAdviceHeight = 46.0;
constexpr double kPagesTop = 114.0, kBodyTop = 154.0;
constexpr double kFootTop = 730.0;
constexpr std::size_t kSectionColumns = 4;
constexpr double kSectionHeight = 124.0, kSectionBetween = 20.0;

}  // namespace

bool DebriefScreen::twin_shown(const Debrief& debrief) const {
    const Scorecard& card = debrief.card;
    return twin_ && card.converged() && card.ideal && card.ideal->status.converged;
}

const ClosureMeasures& DebriefScreen::measures(const Debrief& debrief) const {
    return twin_shown(debrief) ? *debrief.card.ideal : debrief.card.attempt;
}

void DebriefScreen::take(const Scenario& scenario, const Debrief& debrief) {
    const Scorecard& card = debrief.card;
    shares_ = card.ideal ? double_angle(card, SumOfShares::drawn) : std::nullopt;
    clock_ = leak_clock(scenario, card.attempt);
    twin_clock_ = card.ideal ? leak_clock(scenario, *card.ideal) : std::nullopt;
    for (std::optional<LeakClock>* clock : {&clock_, &twin_clock_})
        if (*clock) mark_bites(**clock, debrief.attempt);
    bites_ = bites_in_order(debrief.attempt);
    runs_ = run_numbers(bites_);
    chosen_.reset();
    page_ = asks_a_question(scenario.kind) ? Page::marks : Page::result;
    twin_ = false;
    std::vector<const CurvatureMap*> maps;
    for (const auto* map : {&debrief.map, &debrief.twin_map})
        if (*map) maps.push_back(&**map);
    const PowerScale scale = own_scale(maps);
    map_ = debrief.map ? std::make_unique<PowerMapPlot>(*debrief.map, scale) : nullptr;
    twin_map_ = debrief.twin_map ? std::make_unique<PowerMapPlot>(*debrief.twin_map, scale) : nullptr;
}

DebriefChoice DebriefScreen::draw(Ui& ui, const Snapshot& shot, const std::string& saved_in) {
    const Debrief& debrief = *shot.debrief;
    if (taken_ != shot.debrief) {
        const Page asked = page_;
        const bool twin = twin_, first = taken_ == nullptr;
        take(*shot.scenario, debrief);
        if (first && (asked != Page::result || twin)) {  // what was asked for before there was anything to show
            page_ = asked;
            twin_ = twin;
        }
        taken_ = shot.debrief;
    }
    ui.begin_screen("debrief");
    draw_head(ui, shot);
    const Rect body{kEdge, kBodyTop, kWidth, kFootTop - 10.0 - kBodyTop};
    const bool converged = debrief.card.converged();
    if (page_ == Page::bites) {
        if (const auto bite = draw_bite_table(ui, body, debrief, chosen_))
            chosen_ = chosen_ == bite ? std::nullopt : bite;
    } else if (page_ == Page::sections) {
        draw_sections(ui, shot, body);
    } else if (page_ == Page::marks && debrief.drill) {
        draw_drill(ui, body, shot);
    } else if (!converged) {
        draw_no_closure(ui, body, debrief);
    } else if (page_ == Page::marks) {
        draw_rules(ui, body, debrief.card);
    } else {
        draw_result(ui, shot, body);
    }
    const DebriefChoice choice = draw_foot(ui, saved_in);
    ui.end_screen();
    return choice;
}

void DebriefScreen::draw_head(Ui& ui, const Snapshot& shot) {
    const PlotPen pen(ui);
    const Debrief& debrief = *shot.debrief;
    const std::string title = shot.scenario->title.empty() ? shot.scenario->id : shot.scenario->title;
    pen.words({kEdge, 34.0}, title, Face::heading, ink(tone::text));
    std::string line = fmt::format("{} in the eye, {} on the clock", counted(debrief.card.bite_count, "bite"),
                                   words::clock(shot.time_s));
    if (!debrief.attempt.trainee.empty()) line += ", " + debrief.attempt.trainee;
    pen.words({kEdge + ui.text_width(title, Face::heading) + 18.0, 35.0}, line, Face::body, ink(tone::quiet));

    if (debrief.card.score || debrief.drill) {
        const bool passed = debrief.drill ? debrief.drill->passed : debrief.card.score->passed;
        const std::string verdict = passed ? "passed" : "not passed yet";
        const double right = kCanvasWidth - kEdge, width = ui.text_width(verdict, Face::strong) + 32.0;
        pen.box({right - width, 19.0, width, 30.0}, passed ? ink(tone::accent_deep) : ink(tone::warning_deep), 15.0);
        pen.words({right - width / 2.0, 34.0}, verdict, Face::strong, passed ? ink(tone::text) : ink(tone::warning),
                  WordsAt::middle);
        if (!debrief.drill)
            pen.words({right - width - 14.0, 34.0}, fmt::format("{:.0f} of 100", debrief.card.score->total),
                      Face::heading, ink(tone::text), WordsAt::right);
    }
    const bool converged = debrief.card.converged();
    pen.box({kEdge, kAdviceTop, kWidth, kAdviceHeight}, ink(tone::raised), 8.0);
    pen.box({kEdge, kAdviceTop, 5.0, kAdviceHeight}, converged ? ink(tone::accent) : ink(tone::warning), 2.5);
    const std::string advice = debrief.drill ? debrief.drill->sentence
                               : converged   ? debrief.advice
                                             : "The wound finds no balance: " + debrief.card.reason() + ".";
    const double advice_width = ui.text_width(advice, Face::strong), room = kWidth - 40.0;
    const double lines = advice_width > room ? 2.0 : 1.0;
    ui.move_to(kEdge + 20.0, kAdviceTop + (kAdviceHeight - lines * ui.line_height(Face::strong)) / 2.0);
    ui.wrapped(advice, Face::strong, tone::text, room);

    ui.move_to(kEdge, kPagesTop);
    int page = static_cast<int>(page_);
    const bool asked = asks_a_question(shot.scenario->kind);
    if (ui.choose({asked ? "As posed" : "Result", "Bites", "Sections", asked ? "Answer" : "Marks"}, page, 116.0))
        page_ = static_cast<Page>(page);
    if (converged && debrief.card.ideal && page_ == Page::result) {
        const char* const label = "Ideal twin in its place";
        ui.move_to(kCanvasWidth - kEdge - ui.text_width(label, Face::body) - 40.0, kPagesTop + 2.0);
        ui.check(label, twin_);
    }
}

void DebriefScreen::draw_result(Ui& ui, const Snapshot& shot, const Rect& place) {
    constexpr double kMarksHeight = 150.0, kBetween = 12.0;
    const double each = (place.width - 2.0 * kBetween) / 3.0, height = place.height - kMarksHeight - kBetween;
    draw_map_panel(ui, shot, {place.x, place.y, each, height});
    draw_share_panel(ui, {place.x + each + kBetween, place.y, each, height});
    draw_seal_panel(ui, *shot.debrief, {place.x + 2.0 * (each + kBetween), place.y, each, height});
    draw_marks_summary(ui, {place.x, place.y + height + kBetween, place.width, kMarksHeight}, shot.debrief->card);
}

void DebriefScreen::draw_sections(Ui& ui, const Snapshot& shot, const Rect& place) const {
    const Debrief& debrief = *shot.debrief;
    ui.begin_panel("sections", place, tone::panel, 20.0);
    std::string head =
        "Each bite cut along its plane, true to scale: donor left, host right. Tinted: 85 to 95 % of the thickness.";
    if (!debrief.attempt.runs.empty()) head += " Small circles: a running thread leaves the cut.";
    ui.text(head, Face::small, tone::quiet);
    const double each = (place.width - 52.0 - (kSectionColumns - 1.0) * kSectionBetween) / kSectionColumns;
    const double scrolled = static_cast<double>(ImGui::GetScrollY() / ui.theme.scale());
    const double left = place.x + 20.0, top = place.y + 46.0 - scrolled;
    const std::size_t count = std::min(bites_.size(), debrief.card.bites.size());
    for (std::size_t b = 0; b < count; ++b) {
        const Rect cell{left + static_cast<double>(b % kSectionColumns) * (each + kSectionBetween),
                        top + static_cast<double>(b / kSectionColumns) * kSectionHeight, each, kSectionHeight - 14.0};
        draw_bite_section(ui, cell, *shot.scenario, bites_[b], debrief.card.bites[b], b + 1, chosen_ == b);
    }
    const auto rows = static_cast<double>((count + kSectionColumns - 1) / kSectionColumns);
    ui.move_to(left, top + rows * kSectionHeight - 24.0);  // so that the panel knows how far down it goes
    ui.gap(1.0);
    ui.end_panel();
}

DebriefChoice DebriefScreen::draw_foot(Ui& ui, const std::string& saved_in) const {
    DebriefChoice choice = DebriefChoice::none;
    const auto button = [&](double x, const char* label, ButtonKind kind, double width, DebriefChoice what) {
        ui.move_to(x, kFootTop);
        if (ui.button(label, kind, width)) choice = what;
    };
    const double right = kCanvasWidth - kEdge;
    button(kEdge, "Replay", ButtonKind::plain, 110.0, DebriefChoice::replay);
    button(kEdge + 120.0, "Report", ButtonKind::plain, 110.0, DebriefChoice::report);
    button(right - 290.0, "Levels", ButtonKind::plain, 120.0, DebriefChoice::levels);
    button(right - 160.0, "Once more", ButtonKind::primary, 160.0, DebriefChoice::again);
    const PlotPen pen(ui);
    pen.words({kEdge + 248.0, kFootTop + 19.0}, ui.shortened(saved_in, Face::small, right - 290.0 - kEdge - 268.0),
              Face::small, ink(tone::quiet));
    pen.words({kEdge, 784.0}, words::kCaution, Face::small, ink(tone::quiet));
    return choice;
}

}  // namespace graftwright
