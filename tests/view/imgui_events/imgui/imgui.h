// A stand-in for Dear ImGui 1.89 and later, which keeps what it is told: with it the words for those versions are
// compiled and tried on a machine that has 1.86. That the true library takes the same words, a build on Debian 13 says.
#pragma once

#include <string>
#include <vector>

#define IMGUI_VERSION_NUM 18900

enum ImGuiKey : int {
    ImGuiKey_Tab = 512,
    ImGuiKey_LeftArrow,
    ImGuiKey_RightArrow,
    ImGuiKey_UpArrow,
    ImGuiKey_DownArrow,
    ImGuiKey_PageUp,
    ImGuiKey_PageDown,
    ImGuiKey_Home,
    ImGuiKey_End,
    ImGuiKey_Insert,
    ImGuiKey_Delete,
    ImGuiKey_Backspace,
    ImGuiKey_Space,
    ImGuiKey_Enter,
    ImGuiKey_Escape,
    ImGuiKey_A,
    ImGuiKey_C,
    ImGuiKey_V,
    ImGuiKey_X,
    ImGuiKey_Y,
    ImGuiKey_Z,
    ImGuiMod_Ctrl = 1 << 12,
    ImGuiMod_Shift = 1 << 13,
    ImGuiMod_Alt = 1 << 14
};
enum ImGuiMouseButton_ { ImGuiMouseButton_COUNT = 5 };

struct ImGuiIO {
    bool ConfigInputTrickleEventQueue = true;

    std::vector<std::string> told;

    void AddKeyEvent(ImGuiKey key, bool down) { tell("key", key, down); }
    void AddMouseButtonEvent(int button, bool down) { tell("button", button, down); }
    void AddMousePosEvent(float x, float y) { tell("pointer", static_cast<int>(x), static_cast<int>(y)); }
    void AddMouseWheelEvent(float x, float y) { tell("wheel", static_cast<int>(x), static_cast<int>(y)); }
    void AddFocusEvent(bool focused) { tell("focus", 0, focused); }

    void tell(const char* what) { told.emplace_back(what); }

  private:
    void tell(const char* what, int first, int second) {
        told.push_back(std::string(what) + ' ' + std::to_string(first) + ' ' + std::to_string(second));
    }
};

namespace ImGui {

inline ImGuiIO& GetIO() {
    static ImGuiIO io;
    return io;
}
inline void SetKeyboardFocusHere() { GetIO().tell("focus here"); }

}  // namespace ImGui
