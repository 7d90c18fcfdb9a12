#include "view/kit/widgets.h"

#include <algorithm>
#include <bitset>

#include <SFML/System/String.hpp>
#include <SFML/Window/Clipboard.hpp>
#include <imgui/backends/imgui_impl_opengl2.h>
#include <imgui/imgui.h>

#include "view/kit/widget_input.h"

namespace graftwright {
namespace {

constexpr float kShortestFrame_s = 1e-4F;  // the library divides by it
constexpr std::size_t kButtons = 5;

const char* take_clipboard(void* kept) {
    auto* text = static_cast<std::string*>(kept);
    const auto bytes = sf::Clipboard::getString().toUtf8();
    text->assign(bytes.begin(), bytes.end());
    return text->c_str();
}

void give_clipboard(void* /*kept*/, const char* text) {
    const std::string_view bytes(text);
    sf::Clipboard::setString(sf::String::fromUtf8(bytes.begin(), bytes.end()));
}

float scale_for(sf::Vector2u window) {
    return std::max(0.25F, std::min(static_cast<float>(window.x) / static_cast<float>(kCanvasWidth),
                                    static_cast<float>(window.y) / static_cast<float>(kCanvasHeight)));
}

}  // namespace

struct Widgets::Context {
    ImGuiContext* imgui = ImGui::CreateContext();
    bool drawn = false;  // the library's OpenGL side is up
    std::bitset<sf::Keyboard::KeyCount> key_down;
    // What has changed since the last begin(): the same key or button must not change twice in a frame,
    // and the pointer must not leave a click before it has been seen.
    std::bitset<sf::Keyboard::KeyCount> key_changed;
    std::bitset<kButtons> button_changed;
};

Widgets::Widgets() : context_(std::make_unique<Context>()) {
    ImGui::SetCurrentContext(context_->imgui);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    io.BackendPlatformName = "graftwright_sfml";
    io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard | ImGuiConfigFlags_NoMouseCursorChange;
    io.GetClipboardTextFn = take_clipboard;
    io.SetClipboardTextFn = give_clipboard;
    io.ClipboardUserData = &clipboard_;
    set_up_input(io);
    tell_pointer_left(io);
}

Widgets::~Widgets() {
    ImGui::SetCurrentContext(context_->imgui);
    if (context_->drawn) ImGui_ImplOpenGL2_Shutdown();
    ImGui::DestroyContext(context_->imgui);
}

void Widgets::handle(const sf::Event& event) { waiting_.push_back(event); }

bool Widgets::apply_key(const sf::Event::KeyEvent& key, bool down) {
    ImGuiIO& io = ImGui::GetIO();
    tell_modifiers(io, key.control, key.shift, key.alt);
    if (key.code < 0 || key.code >= sf::Keyboard::KeyCount) return true;
    const auto code = static_cast<std::size_t>(key.code);
    if (context_->key_down[code] == down) return true;  // the desktop's repeats; the library makes its own
    if (context_->key_changed[code]) return false;
    tell_key(io, key.code, down);
    context_->key_down[code] = down;
    context_->key_changed.set(code);
    return true;
}

bool Widgets::apply_button(unsigned button, bool down) {
    if (button >= kButtons) return true;
    if (context_->button_changed[button]) return false;
    tell_button(ImGui::GetIO(), static_cast<int>(button), down);
    context_->button_changed.set(button);
    return true;
}

bool Widgets::apply(const sf::Event& event) {
    ImGuiIO& io = ImGui::GetIO();
    const auto point = [&](int x, int y) { tell_pointer(io, static_cast<float>(x), static_cast<float>(y)); };
    switch (event.type) {
        case sf::Event::MouseMoved:
            if (context_->button_changed.any()) return false;
            point(event.mouseMove.x, event.mouseMove.y);
            return true;
        case sf::Event::MouseButtonPressed:
        case sf::Event::MouseButtonReleased: {
            const bool down = event.type == sf::Event::MouseButtonPressed;
            if (!apply_button(static_cast<unsigned>(event.mouseButton.button), down)) return false;
            point(event.mouseButton.x, event.mouseButton.y);
            return true;
        }
        case sf::Event::MouseWheelScrolled:
            if (event.mouseWheelScroll.wheel == sf::Mouse::VerticalWheel)
                tell_wheel(io, 0.0F, event.mouseWheelScroll.delta);
            else
                tell_wheel(io, event.mouseWheelScroll.delta, 0.0F);
            return true;
        case sf::Event::KeyPressed:
            return apply_key(event.key, true);
        case sf::Event::KeyReleased:
            return apply_key(event.key, false);
        case sf::Event::TextEntered:
            if (event.text.unicode >= 0x20 && event.text.unicode != 0x7f) io.AddInputCharacter(event.text.unicode);
            return true;
        case sf::Event::LostFocus:
            tell_focus_lost(io);
            context_->key_down.reset();
            return true;
        case sf::Event::MouseLeft:
            tell_pointer_left(io);
            return true;
        default:
            return true;
    }
}

void Widgets::begin(float frame_s, sf::Vector2u window) {
    ImGui::SetCurrentContext(context_->imgui);
    if (!context_->drawn) {
        ImGui_ImplOpenGL2_Init();
        context_->drawn = true;
    }
    const float scale = scale_for(window);
    if (scale != ui_.theme.scale()) {
        ImGui_ImplOpenGL2_DestroyFontsTexture();
        ui_.theme.build(scale);
    }
    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = {static_cast<float>(window.x), static_cast<float>(window.y)};
    io.DeltaTime = std::max(frame_s, kShortestFrame_s);
    context_->key_changed.reset();
    context_->button_changed.reset();
    while (!waiting_.empty() && apply(waiting_.front())) waiting_.pop_front();
    let_enter_activate(io, context_->key_down[sf::Keyboard::Enter]);

    ImGui_ImplOpenGL2_NewFrame();
    ImGui::NewFrame();
    ui_.start_frame(io.DisplaySize.x, io.DisplaySize.y);
}

void Widgets::draw(sf::RenderTarget& target) {
    ImGui::SetCurrentContext(context_->imgui);
    ImGui::Render();
    if (!target.setActive(true)) return;
    target.pushGLStates();
    ImGui_ImplOpenGL2_RenderDrawData(ImGui::GetDrawData());
    target.popGLStates();
}

}  // namespace graftwright
