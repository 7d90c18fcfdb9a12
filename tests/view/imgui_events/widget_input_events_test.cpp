// What the newer Dear ImGui is told, held against a stand-in for it (imgui/imgui.h beside this file).
#include <catch2/catch.hpp>

#include "view/kit/widget_input.h"

using namespace graftwright;
using Told = std::vector<std::string>;

TEST_CASE("widget input: the library is told of keys, modifiers, buttons, pointer and wheel as events", "[view]") {
    ImGuiIO io;
    set_up_input(io);
    CHECK_FALSE(io.ConfigInputTrickleEventQueue);
    tell_modifiers(io, true, false, true);
    tell_key(io, sf::Keyboard::Enter, true);
    tell_key(io, sf::Keyboard::Z, false);
    tell_button(io, 1, true);
    tell_pointer(io, 30.0F, 40.0F);
    tell_wheel(io, 2.0F, -3.0F);
    CHECK(io.told == Told{"key " + std::to_string(ImGuiMod_Ctrl) + " 1", "key " + std::to_string(ImGuiMod_Shift) + " 0",
                          "key " + std::to_string(ImGuiMod_Alt) + " 1", "key " + std::to_string(ImGuiKey_Enter) + " 1",
                          "key " + std::to_string(ImGuiKey_Z) + " 0", "button 1 1", "pointer 30 40", "wheel 2 -3"});
}

TEST_CASE("widget input: keys that the library has no use for are passed over", "[view]") {
    ImGuiIO io;
    tell_key(io, sf::Keyboard::F5, true);
    tell_key(io, sf::Keyboard::Unknown, true);
    CHECK(io.told.empty());
}

TEST_CASE("widget input: when the keyboard is lost every button is let go", "[view]") {
    ImGuiIO io;
    tell_focus_lost(io);
    CHECK(io.told == Told{"focus 0 0", "button 0 0", "button 1 0", "button 2 0", "button 3 0", "button 4 0"});
}

TEST_CASE("widget input: a control that is given the keyboard is seen to have it", "[view]") {
    focus_next_control();
    CHECK(ImGui::GetIO().told == Told{"focus here", "focus seen"});
}
