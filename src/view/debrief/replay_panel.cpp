// The time line of a replayed attempt; see debrief_screen.h.
#include <algorithm>

#include <fmt/format.h>

#include "view/debrief/debrief_screen.h"
#include "view/kit/pen.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

constexpr double kStep_s = 5.0;
constexpr double kHeight = 196.0;  // of the panel, at the console's foot

void draw_time_line(Ui& ui, const Rect& place, ReplayUi& replay) {
    ui.move_to(place.x, place.y);
    ImGui::SetNextItemWidth(ui.px(place.width));
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {ui.px(6.0), ui.px(4.0)});
    auto t = static_cast<float>(replay.t_s);
    if (ImGui::SliderFloat("##time", &t, 0.0F, static_cast<float>(replay.end_s), "",
                           ImGuiSliderFlags_NoInput | ImGuiSliderFlags_AlwaysClamp)) {
        replay.t_s = static_cast<double>(t);
        replay.playing = false;
    }
    ImGui::PopStyleVar();
    ui.note("##time");
}

}  // namespace

void DebriefScreen::draw_replay(Ui& ui, ReplayUi& replay, const Layout& layout) {
    const Rect console = layout.console();
    const Rect place{console.x, console.y + console.height - kHeight, console.width, kHeight};
    const double left = place.x + 18.0, width = place.width - 36.0;
    ui.begin_screen("replay", 0.0F);
    ui.begin_panel("replay panel", place, tone::panel, 18.0, false);
    const PlotPen pen(ui);
    pen.words({left, place.y + 26.0}, "Replay", Face::heading, ink(tone::text));
    pen.words({left + width, place.y + 26.0},
              fmt::format("{} of {}", words::clock(replay.t_s), words::clock(replay.end_s)), Face::body,
              ink(tone::text), WordsAt::right);
    draw_time_line(ui, {left, place.y + 46.0, width, 28.0}, replay);

    ui.move_to(left, place.y + 86.0);
    if (ui.button(replay.playing ? "Hold" : "Play", ButtonKind::primary, 100.0)) {
        replay.playing = !replay.playing;
        if (replay.playing && replay.t_s >= replay.end_s) replay.t_s = 0.0;
    }
    const auto step = [&](const char* label, double seconds) {
        ImGui::SameLine(0.0F, ui.px(8.0));
        if (ui.button(label, ButtonKind::plain, 70.0)) replay.t_s = std::clamp(replay.t_s + seconds, 0.0, replay.end_s);
    };
    step("−5 s", -kStep_s);
    step("+5 s", kStep_s);
    ui.move_to(left + width - 188.0, place.y + 89.0);
    int speed = replay.speed < 2.0 ? 0 : replay.speed < 8.0 ? 1 : 2;
    if (ui.choose({"1×", "4×", "16×"}, speed, 60.0)) replay.speed = speed == 0 ? 1.0 : speed == 1 ? 4.0 : 16.0;

    ui.move_to(left, place.y + 140.0);
    if (ui.button("Back to the debrief", ButtonKind::plain, width)) replay.open = false;
    ui.end_panel();
    ui.end_screen();
}

}  // namespace graftwright
