#include "view/window/key_names.h"

#include <array>
#include <utility>

namespace graftwright {
namespace {

using Key = sf::Keyboard::Key;

constexpr std::array<std::pair<Key, const char*>, 32> kNamed{{
    {Key::Space, "Space"},
    {Key::Enter, "Enter"},
    {Key::Backspace, "Backspace"},
    {Key::Left, "Left"},
    {Key::Right, "Right"},
    {Key::Up, "Up"},
    {Key::Down, "Down"},
    {Key::Delete, "Delete"},
    {Key::Insert, "Insert"},
    {Key::Home, "Home"},
    {Key::End, "End"},
    {Key::PageUp, "PageUp"},
    {Key::PageDown, "PageDown"},
    {Key::Tab, "Tab"},
    {Key::Escape, "Escape"},
    {Key::Add, "+"},
    {Key::Equal, "+"},
    {Key::Subtract, "-"},
    {Key::Hyphen, "-"},
    {Key::LBracket, "["},
    {Key::RBracket, "]"},
    {Key::Semicolon, ";"},
    {Key::Comma, ","},
    {Key::Period, "."},
    {Key::Quote, "'"},
    {Key::Slash, "/"},
    {Key::Backslash, "\\"},
    {Key::Tilde, "`"},
    {Key::Multiply, "*"},
    {Key::Divide, "/"},
    {Key::Pause, "Pause"},
    {Key::Menu, "Menu"},
}};

// Keys whose shifted press is a name of its own.
bool shifts(Key key) { return key == Key::Left || key == Key::Right || key == Key::Up || key == Key::Down; }

}  // namespace

std::string key_name(const sf::Event::KeyEvent& key) {
    if (key.code >= Key::A && key.code <= Key::Z) return std::string(1, static_cast<char>('A' + (key.code - Key::A)));
    if (key.code >= Key::Num0 && key.code <= Key::Num9) return std::to_string(key.code - Key::Num0);
    if (key.code >= Key::Numpad0 && key.code <= Key::Numpad9) return std::to_string(key.code - Key::Numpad0);
    if (key.code >= Key::F1 && key.code <= Key::F15) return "F" + std::to_string(key.code - Key::F1 + 1);
    for (const auto& [code, name] : kNamed)
        if (code == key.code) return (key.shift && shifts(code) ? "Shift+" : "") + std::string(name);
    return "";
}

std::optional<Input> input_of(const sf::Event& event, Point canvas) {
    Input input;
    input.x = canvas.x;
    input.y = canvas.y;
    switch (event.type) {
        case sf::Event::MouseMoved:
            input.what = HandDoes::move;
            return input;
        case sf::Event::MouseButtonPressed:
        case sf::Event::MouseButtonReleased:
            if (event.mouseButton.button != sf::Mouse::Left && event.mouseButton.button != sf::Mouse::Right)
                return std::nullopt;
            input.what = event.type == sf::Event::MouseButtonPressed ? HandDoes::press : HandDoes::release;
            input.button = event.mouseButton.button == sf::Mouse::Left ? 0 : 1;
            return input;
        case sf::Event::MouseWheelScrolled:
            if (event.mouseWheelScroll.wheel != sf::Mouse::VerticalWheel) return std::nullopt;
            input.what = HandDoes::wheel;
            input.notches = static_cast<double>(event.mouseWheelScroll.delta);
            return input;
        case sf::Event::KeyPressed:
            input.what = HandDoes::key;
            input.key = key_name(event.key);
            return input.key.empty() ? std::nullopt : std::optional(input);
        default:
            return std::nullopt;
    }
}

}  // namespace graftwright
