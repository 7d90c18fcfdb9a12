#include "view/window/start_screen.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/units.h"
#include "base/words.h"
#include "view/kit/widget_input.h"
#include "view/window/level_words.h"

namespace graftwright {
namespace {

// Places on the canvas.
constexpr double kEdge = 32.0, kFoot = 32.0, kNoticeHeight = 18.0, kBetween = 16.0;
constexpr double kBodyTop = 172.0, kOfferHeight = 62.0;
constexpr double kListWidth = 364.0, kSettingsWidth = 276.0;
constexpr double kRowHeight = 56.0;

// The sign beside the name: a wound with sixteen bites across it.
void draw_sign(const Ui& ui, double x, double y, double radius) {
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 middle = ui.at(x, y);
    draw.AddCircle(middle, ui.px(radius), ink(tone::quiet, 0.5F), 96, ui.px(1.2));
    draw.AddCircle(middle, ui.px(radius * 0.68), ink(tone::accent), 96, ui.px(1.8));
    draw.AddCircle(middle, ui.px(radius * 0.24), ink(tone::quiet, 0.5F), 64, ui.px(1.2));
    for (int i = 0; i < 16; ++i) {
        const double angle = kPi * i / 8.0;
        const auto point = [&](double r) {
            return ImVec2{middle.x + ui.px(r * std::cos(angle)), middle.y + ui.px(r * std::sin(angle))};
        };
        draw.AddLine(point(radius * 0.55), point(radius * 0.81), ink(tone::text), ui.px(1.4));
    }
}

// One point of a list: a short rule in the accent, then the words, broken beside it.
void bullet(const Ui& ui, std::string_view words, Tone mark) {
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float middle = start.y + ui.px(ui.line_height(Face::body)) * 0.55F;
    ImGui::GetWindowDrawList()->AddRectFilled({start.x, middle - ui.px(1.0)},
                                              {start.x + ui.px(10.0), middle + ui.px(1.0)}, ink(mark));
    ImGui::SetCursorScreenPos({start.x + ui.px(20.0), start.y});
    ui.wrapped(words);
}

std::string clock_words(double seconds) {
    const int whole = static_cast<int>(seconds);
    return fmt::format("{}:{:02}", whole / 60, whole % 60);
}

}  // namespace

void fill_in(StartModel& model, const std::vector<LevelCount>& results) {
    for (LevelEntry& entry : model.levels) {
        entry.best.reset();
        entry.passed = false;
        entry.attempts = 0;
        for (const LevelCount& result : results) {
            if (!entry.faults.empty() || result.scenario != entry.scenario.id) continue;
            entry.best = result.best_total;
            entry.passed = result.passed > 0;
            entry.attempts = result.attempts;
        }
    }
}

StartChoice StartScreen::draw(Ui& ui, const StartModel& model) {
    if (fresh_) {
        settings_ = model.settings;
        selected_ = 0;
        for (std::size_t i = 0; i < model.levels.size(); ++i) {
            if (!model.selected_id.empty() && model.levels[i].scenario.id == model.selected_id) selected_ = i;
        }
        focus_list_ = true;
        fresh_ = false;
    }
    selected_ = std::min(selected_, model.levels.empty() ? 0 : model.levels.size() - 1);

    StartChoice choice;
    ui.begin_screen("start");
    draw_head(ui);
    ui.move_to(kCanvasWidth - kEdge - 166.0, 34.0);
    if (ui.button("My practice", ButtonKind::plain, 166.0)) choice.what = StartChoice::What::practice;
    double top = kBodyTop;
    if (!model.interrupted.empty()) {
        draw_interrupted(ui, model.interrupted, choice);
        top += kOfferHeight + kBetween;
    }
    const double foot = kFoot + kNoticeHeight * static_cast<double>(std::max<std::size_t>(model.notices.size(), 1) - 1);
    const double height = kCanvasHeight - foot - top;
    const double middle = kCanvasWidth - 2.0 * kEdge - kListWidth - kSettingsWidth - 2.0 * kBetween;
    draw_levels(ui, model, {kEdge, top, kListWidth, height}, choice);
    if (!model.levels.empty()) {
        draw_level(ui, model.levels[selected_], {kEdge + kListWidth + kBetween, top, middle, height}, choice);
    }
    draw_settings(ui, model, {kCanvasWidth - kEdge - kSettingsWidth, top, kSettingsWidth, height}, choice);
    double y = kCanvasHeight - foot + 6.0;
    for (const std::string& notice : model.notices) {
        ui.text_at(kEdge, y, ui.shortened(notice, Face::small, kCanvasWidth - 2.0 * kEdge), Face::small, tone::warning);
        y += kNoticeHeight;
    }
    ui.end_screen();
    choice.settings = settings_;
    return choice;
}

void StartScreen::draw_head(Ui& ui) const {
    draw_sign(ui, kEdge + 26.0, 50.0, 26.0);
    ui.text_at(kEdge + 66.0, 18.0, "Graftwright", Face::title);
    ui.text_at(kEdge + 68.0, 58.0, "learn to close a corneal graft, bite by bite", Face::body, tone::quiet);

    const Rect box{kEdge, 96.0, kCanvasWidth - 2.0 * kEdge, 60.0};
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddRectFilled(ui.at(box.x, box.y), ui.at(box.x + box.width, box.y + box.height), ink(tone::warning_deep),
                       ui.px(8.0));
    draw.AddRectFilled(ui.at(box.x, box.y), ui.at(box.x + 5.0, box.y + box.height), ink(tone::warning), ui.px(3.0));
    ui.text_at(box.x + 22.0, box.y + 10.0, kCautionTitle, Face::heading, tone::warning);
    ui.move_to(box.x + 170.0, box.y + 11.0);
    ui.wrapped(kCautionText, Face::body, tone::text, box.width - 190.0);
}

void StartScreen::draw_interrupted(Ui& ui, const std::vector<Interrupted>& attempts, StartChoice& choice) {
    offered_ %= attempts.size();
    const Interrupted& attempt = attempts[offered_];
    ui.begin_panel("interrupted", {kEdge, kBodyTop, kCanvasWidth - 2.0 * kEdge, kOfferHeight}, tone::raised, 18.0,
                   false);
    const double y = kBodyTop + 12.0;
    ui.text_at(
        kEdge + 18.0, y,
        attempts.size() == 1
            ? "An attempt was interrupted"
            : fmt::format("{} attempts were interrupted; number {}, the latest first:", attempts.size(), offered_ + 1),
        Face::strong);
    const std::string who = attempt.trainee.empty() ? "" : attempt.trainee + ", ";
    ui.text_at(kEdge + 18.0, y + 19.0,
               fmt::format("{}: {}{} tied, {} on the clock", attempt.level_title, who,
                           counted(attempt.bites_tied, "bite"), clock_words(attempt.clock_s)),
               Face::body, tone::quiet);
    if (attempts.size() > 1) {
        ui.move_to(kCanvasWidth - kEdge - 460.0, y);
        if (ui.button("Another", ButtonKind::quiet, 116.0)) ++offered_;
    }
    ui.move_to(kCanvasWidth - kEdge - 334.0, y);
    if (ui.button("Set it aside", ButtonKind::quiet, 140.0)) choice.what = StartChoice::What::set_aside;
    ui.move_to(kCanvasWidth - kEdge - 184.0, y);
    if (ui.button("Continue it", ButtonKind::primary, 166.0)) choice.what = StartChoice::What::go_on;
    if (choice.what == StartChoice::What::go_on || choice.what == StartChoice::What::set_aside)
        choice.path = attempt.path;
    ui.end_panel();
}

void StartScreen::draw_levels(Ui& ui, const StartModel& model, const Rect& place, StartChoice& choice) {
    constexpr double kButtonRow = 66.0;
    ui.begin_panel("levels", {place.x, place.y, place.width, place.height - kButtonRow}, tone::panel, 12.0);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0.0F, ui.px(4.0)});
    if (model.levels.empty()) {
        ui.wrapped("There are no levels here. They are files named *.json in the folder levels.", Face::body,
                   tone::quiet);
    }
    for (std::size_t i = 0; i < model.levels.size(); ++i) draw_row(ui, model.levels[i], i, choice);
    ImGui::PopStyleVar();
    focus_list_ = false;
    ui.end_panel();
    ui.move_to(place.x, place.y + place.height - 50.0);
    if (ui.button("Make a level", ButtonKind::plain, place.width, 50.0)) choice.what = StartChoice::What::make_level;
}

// A level is chosen by a click or by coming to it with the arrows, and started by a double click or by
// Enter or Space on it.
void StartScreen::draw_row(Ui& ui, const LevelEntry& level, std::size_t index, StartChoice& choice) {
    const bool broken = !level.faults.empty();
    const std::string name = broken                         ? level.file
                             : level.scenario.title.empty() ? level.scenario.id
                                                            : level.scenario.title;
    const std::string label = fmt::format("##level {}", !broken     ? level.scenario.id
                                                        : level.own ? level.path
                                                                    : level.file);
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    if (focus_list_ && index == selected_) focus_next_control();
    const bool chosen = index == selected_;
    const bool pressed = ui.button(label.c_str(), chosen ? ButtonKind::plain : ButtonKind::quiet,
                                   static_cast<double>(width / ui.theme.scale()), kRowHeight);
    const bool by_mouse = ImGui::IsItemHovered() && ImGui::IsMouseReleased(ImGuiMouseButton_Left);
    const bool twice = ImGui::IsItemHovered() && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left);
    if (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible) selected_ = index;
    if (pressed) selected_ = index;
    if (!broken && (twice || (pressed && !by_mouse))) {
        choice.what = StartChoice::What::play;
        choice.level_id = level.scenario.id;
    }

    ImDrawList& draw = *ImGui::GetWindowDrawList();
    if (chosen) {
        draw.AddRectFilled({start.x, start.y + ui.px(10.0)}, {start.x + ui.px(3.0), start.y + ui.px(kRowHeight - 10.0)},
                           ink(tone::accent), ui.px(1.5));
    }
    const auto line = [&](double x, double y, Face face, Tone colour, const std::string& words) {
        ImFont* font = ui.theme.font(face);
        draw.AddText(font, font->FontSize, {start.x + ui.px(x), start.y + ui.px(y)}, ink(colour), words.c_str());
    };
    line(16.0, 8.0, Face::body, broken ? tone::quiet : tone::text, name);
    const std::string under = broken ? "cannot be read: " + counted(level.faults.size(), "fault")
                                     : std::string(kind_words(level.scenario.kind)) + (level.own ? ", your own" : "");
    line(16.0, 30.0, Face::small, broken ? tone::warning : tone::quiet, under);
    if (level.best || level.passed || level.attempts > 0) {
        const std::string best = level.best ? fmt::format("{}best {:.0f}", level.passed ? "passed, " : "", *level.best)
                                 : level.passed ? "passed"
                                                : "not passed yet";
        line(static_cast<double>(width / ui.theme.scale()) - ui.text_width(best, Face::small) - 14.0, 30.0, Face::small,
             level.passed ? tone::accent : tone::quiet, best);
    }
}

void StartScreen::draw_level(Ui& ui, const LevelEntry& level, const Rect& place, StartChoice& choice) const {
    constexpr double kButtonRow = 66.0;
    const bool broken = !level.faults.empty();
    const bool changeable = !broken || level.own;
    ui.begin_panel("level", {place.x, place.y, place.width, place.height - (changeable ? kButtonRow : 0.0)},
                   tone::panel, 22.0);
    if (broken) {
        ui.wrapped(level.file, Face::heading);
        ui.wrapped("This file cannot be played. What is wrong with it:", Face::body, tone::quiet);
        for (const Fault& fault : level.faults) {
            const std::string line = fault.line > 0 ? fmt::format("line {}: ", fault.line) : "";
            bullet(ui, line + fault.message, tone::warning);
            ui.note(line + fault.message);
        }
    } else {
        const Scenario& scenario = level.scenario;
        ui.wrapped(scenario.title.empty() ? scenario.id : scenario.title, Face::heading);
        ui.wrapped(fmt::format("{} — {}", kind_words(scenario.kind), task_words(scenario)), Face::body, tone::quiet);
        ui.gap(4.0);
        ui.wrapped(scenario.briefing);
        if (!scenario.teaches.empty()) {
            ui.gap(4.0);
            ui.text("What it teaches", Face::strong, tone::accent);
            for (const std::string& lesson : scenario.teaches) bullet(ui, lesson, tone::accent);
        }
        ui.gap(4.0);
        ui.text("To pass", Face::strong, tone::accent);
        ui.wrapped(pass_words(scenario));
    }
    ui.end_panel();
    if (!changeable) return;
    constexpr double kChange = 146.0;
    ui.move_to(place.x + place.width - kChange, place.y + place.height - 50.0);
    if (ui.button(level.own ? "Change it" : "Change a copy", ButtonKind::plain, kChange, 50.0)) {
        choice.what = StartChoice::What::change_level;
        choice.path = level.path;
    }
    if (broken) return;
    ui.move_to(place.x, place.y + place.height - 50.0);
    if (ui.button("Start this level", ButtonKind::primary, place.width - kChange - 8.0, 50.0)) {
        choice.what = StartChoice::What::play;
        choice.level_id = level.scenario.id;
    }
}

void StartScreen::draw_settings(Ui& ui, const StartModel& model, const Rect& place, StartChoice& choice) {
    ui.begin_panel("settings", place, tone::panel, 20.0);
    const double width = place.width - 40.0;
    ui.text("At the table", Face::heading);
    ui.gap(2.0);
    ui.text("Your label", Face::body);
    ui.entry("##trainee", "any word, not your name", settings_.trainee, width);
    ui.wrapped("It stands on your results. Choose one that says nothing about you or any patient.", Face::small,
               tone::quiet);
    ui.gap(6.0);
    ui.text("View");
    int view = settings_.examiner_view ? 1 : 0;
    if (ui.choose({"Surgeon's", "Examiner's"}, view, (width - 4.0) / 2.0)) settings_.examiner_view = view == 1;
    ui.wrapped(settings_.examiner_view ? "12 o'clock at the top, as one faces the patient"
                                       : "6 o'clock at the top, as one sits at the head",
               Face::small, tone::quiet);
    ui.gap(6.0);
    ui.check("Left-handed", settings_.left_handed);
    ui.check("Reduced motion", settings_.reduced_motion);
    ui.check("Sound", settings_.sound);
    if (!model.sound_available && model.interrupted.empty())
        ui.wrapped("No sound device was found here.", Face::small, tone::quiet);

    ui.move_to(place.x + 20.0, place.y + place.height - 62.0);
    if (ui.button("Keys", ButtonKind::plain, (width - 8.0) / 2.0)) choice.what = StartChoice::What::keys;
    ImGui::SameLine(0.0F, ui.px(8.0));
    if (ui.button("Quit", ButtonKind::plain, (width - 8.0) / 2.0)) choice.what = StartChoice::What::quit;
    ui.end_panel();
}

}  // namespace graftwright
