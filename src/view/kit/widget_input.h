// How Dear ImGui is told of keys, buttons, the pointer and what has the keyboard: the one place that knows which
// version it is. 1.86 (Debian 12) has arrays to write into; since 1.89 (Debian 13 brings 1.90) it takes events. Either
// way what is told here holds from the next frame on, and the caller sees to it that no key or button changes twice in
// a frame: the library's own way of spreading them is switched off, so that both do the same.
#pragma once

#include <SFML/Window/Keyboard.hpp>
#include <imgui/imgui.h>

namespace graftwright {

// Before the first frame.
void set_up_input(ImGuiIO& io);

void tell_modifiers(ImGuiIO& io, bool control, bool shift, bool alt);
// Keys that the library has no use for are passed over.
void tell_key(ImGuiIO& io, sf::Keyboard::Key key, bool down);
void tell_button(ImGuiIO& io, int button, bool down);
void tell_pointer(ImGuiIO& io, float x, float y);  // pixels of the window
void tell_pointer_left(ImGuiIO& io);
void tell_wheel(ImGuiIO& io, float across, float down);  // notches
// The window lost the keyboard: nothing is held any more.
void tell_focus_lost(ImGuiIO& io);
// In every frame: while Enter is held and no text is being typed, it does what Space does.
void let_enter_activate(ImGuiIO& io, bool held);
// The next control has the keyboard and is seen to have it, so that Enter and Space reach it.
void focus_next_control();

}  // namespace graftwright
