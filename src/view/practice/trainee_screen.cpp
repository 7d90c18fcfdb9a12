#include "view/practice/trainee_screen.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/words.h"
#include "view/kit/pen.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

constexpr double kEdge = 24.0, kBodyTop = 112.0, kFootTop = 730.0, kBetween = 12.0;
constexpr double kListWidth = 236.0, kRowHeight = 52.0;

std::string attempts_words(long long attempts) { return counted(attempts, "attempt"); }

// One line of the list; true when it was chosen.
bool draw_level_row(Ui& ui, const std::string& id, const std::string& title, const std::string& under, bool chosen) {
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const double width = static_cast<double>(ImGui::GetContentRegionAvail().x / ui.theme.scale());
    const std::string label = "##practice " + id;
    const bool pressed = ui.button(label.c_str(), chosen ? ButtonKind::plain : ButtonKind::quiet, width, kRowHeight);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    if (chosen)
        draw.AddRectFilled({start.x, start.y + ui.px(10.0)}, {start.x + ui.px(3.0), start.y + ui.px(kRowHeight - 10.0)},
                           ink(tone::accent), ui.px(1.5));
    const auto line = [&](double y, Face face, Tone colour, const std::string& words) {
        ImFont* font = ui.theme.font(face);
        const std::string fits = ui.shortened(words, face, width - 24.0);
        draw.AddText(font, font->FontSize, {start.x + ui.px(12.0), start.y + ui.px(y)}, ink(colour), fits.c_str());
    };
    line(6.0, Face::body, tone::text, title);
    line(28.0, Face::small, tone::quiet, under);
    return pressed;
}

}  // namespace

const LevelTitle* TraineeModel::level(const std::string& id) const {
    const auto found = std::find_if(course.begin(), course.end(), [&](const LevelTitle& one) { return one.id == id; });
    return found == course.end() ? nullptr : &*found;
}

TraineeChoice TraineeScreen::draw(Ui& ui, const TraineeModel& model) {
    TraineeChoice choice;
    ui.begin_screen("practice");
    draw_head(ui, model);
    const double height = kFootTop - 10.0 - kBodyTop;
    draw_levels(ui, model, {kEdge, kBodyTop, kListWidth, height}, choice);
    const double left = kEdge + kListWidth + kBetween;
    draw_body(ui, model, {left, kBodyTop, kCanvasWidth - kEdge - left, height});

    const PlotPen pen(ui);
    const std::string where =
        "The logbook is " + model.place + (model.on_server ? "" : "; nothing leaves this machine by itself");
    pen.words({kEdge, kFootTop + 19.0}, ui.shortened(where, Face::small, kCanvasWidth - 2.0 * kEdge - 190.0),
              Face::small, ink(tone::quiet));
    pen.words({kEdge, 784.0}, words::kCaution, Face::small, ink(tone::quiet));
    ui.move_to(kCanvasWidth - kEdge - 164.0, kFootTop);
    if (ui.button("Done", ButtonKind::primary, 164.0)) choice.what = TraineeChoice::What::done;
    ui.end_screen();
    return choice;
}

void TraineeScreen::draw_head(Ui& ui, const TraineeModel& model) {
    ui.text_at(kEdge, 14.0, "My practice", Face::title);
    const double after = kEdge + ui.text_width("My practice", Face::title) + 18.0;
    ui.text_at(after, 29.0, ui.shortened(model.trainee, Face::heading, 420.0), Face::heading, tone::quiet);
    ui.text_at(kEdge, 60.0, "It shows how your own attempts at this model change. It certifies nobody.", Face::body,
               tone::quiet);
    constexpr double kTab = 128.0;
    ui.move_to(kCanvasWidth - kEdge - 3.0 * kTab - 8.0, 66.0);
    int page = static_cast<int>(page_);
    if (ui.choose({"Progress", "Hand", "Skills"}, page, kTab)) page_ = static_cast<Page>(page);
}

void TraineeScreen::draw_levels(Ui& ui, const TraineeModel& model, const Rect& place, TraineeChoice& choice) const {
    ui.begin_panel("practised levels", place, tone::panel, 10.0);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0.0F, ui.px(3.0)});
    const auto row = [&](const std::string& id, const std::string& title, const std::string& under) {
        if (!draw_level_row(ui, id, title, under, model.scenario == id)) return;
        choice.what = TraineeChoice::What::level;
        choice.scenario = id;
    };
    long long attempts = 0;
    if (model.page)
        for (const LevelCount& level : model.page->levels) attempts += level.attempts;
    row("", "All levels", model.page ? attempts_words(attempts) : "");
    if (model.page) {
        const auto count = [&](const LevelCount& level, const std::string& title) {
            row(level.scenario, title.empty() ? level.scenario : title,
                fmt::format("{}, {} passed", attempts_words(level.attempts), level.passed));
        };
        for (const LevelTitle& title : model.course)
            for (const LevelCount& level : model.page->levels)
                if (level.scenario == title.id) count(level, title.title);
        for (const LevelCount& level : model.page->levels)
            if (model.level(level.scenario) == nullptr) count(level, "");
    }
    ImGui::PopStyleVar();
    ui.end_panel();
}

void TraineeScreen::draw_body(Ui& ui, const TraineeModel& model, const Rect& place) const {
    const auto say = [&](std::string_view head, std::string_view words, Tone colour) {
        ui.begin_panel("practice words", place, tone::panel, 28.0);
        ui.wrapped(head, Face::heading, colour);
        ui.wrapped(words, Face::body, tone::quiet, place.width - 80.0);
        ui.end_panel();
    };
    if (!model.fault.empty()) {
        say("The logbook can't be read now", model.fault + "\n\nFinished attempts are kept as files all the same.",
            tone::warning);
    } else if (!model.page) {
        say("Reading the logbook …", "", tone::quiet);
    } else if (model.page->attempts.empty()) {
        say("No finished attempt under this label yet",
            "Finish a level, and its numbers stand here. The label is the one on the first screen; attempts under "
            "another label have a page of their own.",
            tone::text);
    } else if (page_ == Page::hand) {
        draw_hand(ui, place, *model.page);
    } else if (page_ == Page::skills) {
        draw_skills(ui, place, *model.page);
    } else {
        const LevelTitle* const level = model.level(model.page->options.scenario);
        draw_progress(ui, place, *model.page, level != nullptr && level->limits ? &*level->limits : nullptr);
    }
}

}  // namespace graftwright
