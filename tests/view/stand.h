// A place for one screen: frames, clicks and keys as a window would give them.
#pragma once

#include <string>

#include "pictures.h"
#include "view/kit/widgets.h"

namespace graftwright {

class Stand {
  public:
    Stand() { REQUIRE(target_.create(kPictureWidth, kPictureHeight)); }
    template <typename Draw>
    auto frame(const Draw& draw) {
        REQUIRE(target_.setActive(true));
        widgets.begin(0.02F, {kPictureWidth, kPictureHeight});
        auto result = draw(widgets.ui());
        target_.clear();
        widgets.draw(target_);
        target_.display();
        return result;
    }
    void key(sf::Keyboard::Key code, bool control = false) {
        for (const auto type : {sf::Event::KeyPressed, sf::Event::KeyReleased}) {
            sf::Event event{};
            event.type = type;
            event.key.code = code;
            event.key.control = control;
            widgets.handle(event);
        }
    }
    // Press and release in one go: a short tap between two frames.
    void click(const Rect& place) {
        const Point at = place.centre();
        sf::Event event{};
        event.type = sf::Event::MouseMoved;
        event.mouseMove = {static_cast<int>(at.x), static_cast<int>(at.y)};
        widgets.handle(event);
        for (const auto type : {sf::Event::MouseButtonPressed, sf::Event::MouseButtonReleased}) {
            event.type = type;
            event.mouseButton = {sf::Mouse::Left, static_cast<int>(at.x), static_cast<int>(at.y)};
            widgets.handle(event);
        }
    }
    void type(const std::u32string& words) {
        for (const char32_t letter : words) {
            sf::Event event{};
            event.type = sf::Event::TextEntered;
            event.text.unicode = letter;
            widgets.handle(event);
        }
    }
    [[nodiscard]] sf::Image picture() { return target_.getTexture().copyToImage(); }
    Widgets widgets;

  private:
    sf::RenderTexture target_;
};

}  // namespace graftwright
