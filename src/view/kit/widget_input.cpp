#include "view/kit/widget_input.h"

#include <algorithm>
#include <array>
#include <cfloat>
#include <iterator>
#include <utility>

#if IMGUI_VERSION_NUM >= 18900
#include <imgui/imgui_internal.h>
#endif

namespace graftwright {
namespace {

using Meaning = decltype(ImGuiKey_Tab);  // an enumeration whose own name differs

// Keys that the library asks for by meaning.
constexpr std::array<std::pair<Meaning, sf::Keyboard::Key>, 21> kKeys{{{ImGuiKey_Tab, sf::Keyboard::Tab},
                                                                       {ImGuiKey_LeftArrow, sf::Keyboard::Left},
                                                                       {ImGuiKey_RightArrow, sf::Keyboard::Right},
                                                                       {ImGuiKey_UpArrow, sf::Keyboard::Up},
                                                                       {ImGuiKey_DownArrow, sf::Keyboard::Down},
                                                                       {ImGuiKey_PageUp, sf::Keyboard::PageUp},
                                                                       {ImGuiKey_PageDown, sf::Keyboard::PageDown},
                                                                       {ImGuiKey_Home, sf::Keyboard::Home},
                                                                       {ImGuiKey_End, sf::Keyboard::End},
                                                                       {ImGuiKey_Insert, sf::Keyboard::Insert},
                                                                       {ImGuiKey_Delete, sf::Keyboard::Delete},
                                                                       {ImGuiKey_Backspace, sf::Keyboard::Backspace},
                                                                       {ImGuiKey_Space, sf::Keyboard::Space},
                                                                       {ImGuiKey_Enter, sf::Keyboard::Enter},
                                                                       {ImGuiKey_Escape, sf::Keyboard::Escape},
                                                                       {ImGuiKey_A, sf::Keyboard::A},
                                                                       {ImGuiKey_C, sf::Keyboard::C},
                                                                       {ImGuiKey_V, sf::Keyboard::V},
                                                                       {ImGuiKey_X, sf::Keyboard::X},
                                                                       {ImGuiKey_Y, sf::Keyboard::Y},
                                                                       {ImGuiKey_Z, sf::Keyboard::Z}}};

}  // namespace

void tell_pointer_left(ImGuiIO& io) { tell_pointer(io, -FLT_MAX, -FLT_MAX); }

#if IMGUI_VERSION_NUM >= 18900

void set_up_input(ImGuiIO& io) { io.ConfigInputTrickleEventQueue = false; }

void tell_modifiers(ImGuiIO& io, bool control, bool shift, bool alt) {
    io.AddKeyEvent(ImGuiMod_Ctrl, control);
    io.AddKeyEvent(ImGuiMod_Shift, shift);
    io.AddKeyEvent(ImGuiMod_Alt, alt);
}

void tell_key(ImGuiIO& io, sf::Keyboard::Key key, bool down) {
    const auto* const found =
        std::find_if(kKeys.begin(), kKeys.end(), [&](const auto& known) { return known.second == key; });
    if (found != kKeys.end()) io.AddKeyEvent(found->first, down);
}

void tell_button(ImGuiIO& io, int button, bool down) { io.AddMouseButtonEvent(button, down); }
void tell_pointer(ImGuiIO& io, float x, float y) { io.AddMousePosEvent(x, y); }
void tell_wheel(ImGuiIO& io, float across, float down) { io.AddMouseWheelEvent(across, down); }

void tell_focus_lost(ImGuiIO& io) {
    io.AddFocusEvent(false);  // lets go of the keys, at the next frame
    for (int button = 0; button < ImGuiMouseButton_COUNT; ++button) io.AddMouseButtonEvent(button, false);
}

void let_enter_activate(ImGuiIO& /*io*/, bool /*held*/) {}  // the library does so itself

void focus_next_control() {
    ImGui::SetKeyboardFocusHere();
    ImGui::NavRestoreHighlightAfterMove();  // what has the keyboard unseen, Enter does not activate
}

#else

void set_up_input(ImGuiIO& io) {
    for (const auto& [meaning, key] : kKeys) io.KeyMap[meaning] = key;
}

void tell_modifiers(ImGuiIO& io, bool control, bool shift, bool alt) {
    io.KeyCtrl = control;
    io.KeyShift = shift;
    io.KeyAlt = alt;
}

void tell_key(ImGuiIO& io, sf::Keyboard::Key key, bool down) { io.KeysDown[key] = down; }
void tell_button(ImGuiIO& io, int button, bool down) { io.MouseDown[button] = down; }
void tell_pointer(ImGuiIO& io, float x, float y) { io.MousePos = {x, y}; }

void tell_wheel(ImGuiIO& io, float across, float down) {
    io.MouseWheelH += across;
    io.MouseWheel += down;
}

void tell_focus_lost(ImGuiIO& io) {
    io.AddFocusEvent(false);
    io.ClearInputKeys();
    std::fill(std::begin(io.MouseDown), std::end(io.MouseDown), false);
}

void let_enter_activate(ImGuiIO& io, bool held) {
    if (held && !io.WantTextInput) io.NavInputs[ImGuiNavInput_Activate] = 1.0F;
}

void focus_next_control() { ImGui::SetKeyboardFocusHere(); }

#endif

}  // namespace graftwright
