#include "view/window/pause_screen.h"

#include "view/kit/widget_input.h"

namespace graftwright {

PauseChoice draw_pause_screen(Ui& ui, const char* level, bool trial) {
    PauseChoice choice = PauseChoice::none;
    constexpr double kWidth = 420.0, kHeight = 360.0, kButton = kWidth - 44.0;
    const Rect place{(kCanvasWidth - kWidth) / 2.0, (kCanvasHeight - kHeight) / 2.0, kWidth, kHeight};
    ui.begin_screen("pause", 0.55F);
    ui.begin_panel("pause panel", place, tone::panel, 22.0, false);
    ui.text("The clock stands", Face::heading);
    ui.wrapped(level, Face::body, tone::quiet);
    ui.gap(6.0);
    if (ImGui::IsWindowAppearing()) focus_next_control();
    if (ui.button("Go on", ButtonKind::primary, kButton, 44.0)) choice = PauseChoice::go_on;
    if (ui.button("Keys", ButtonKind::plain, kButton)) choice = PauseChoice::keys;
    if (ui.button("Leave this attempt", ButtonKind::plain, kButton)) choice = PauseChoice::give_up;
    ui.wrapped(
        trial ? "Back to the form; nothing of a trial is kept." : "What you have tied so far is put aside, not scored.",
        Face::small, tone::quiet);
    if (ui.button("Quit", ButtonKind::plain, kButton)) choice = PauseChoice::quit;
    ui.wrapped(
        trial ? "An unsaved form is taken up by the next “Make a level”." : "The next start offers to go on from here.",
        Face::small, tone::quiet);
    ui.end_panel();
    ui.end_screen();
    return choice;
}

}  // namespace graftwright
