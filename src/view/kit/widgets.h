// Dear ImGui in an SFML window: events in, frame begun, picture out. One at a time.
//
// Events are taken, never polled state, and handed on so that a press and its release that arrive in one
// frame act in two: no short tap is lost at a low frame rate, and a click counts where it was made.
// The fonts follow the window's scale. Arrow keys, Space and Enter reach every control.
// Needs a current OpenGL context of SFML's from the first begin() on.
#pragma once

#include <deque>
#include <memory>
#include <string>

#include <SFML/Graphics/RenderTarget.hpp>
#include <SFML/Window/Event.hpp>

#include "view/kit/ui.h"

namespace graftwright {

class Widgets {
  public:
    Widgets();
    ~Widgets();
    Widgets(const Widgets&) = delete;
    Widgets& operator=(const Widgets&) = delete;

    void handle(const sf::Event& event);
    // Before the screens of a frame. frame_s: since the last one.
    void begin(float frame_s, sf::Vector2u window);
    // After them. The target's own view and states are left as they were.
    void draw(sf::RenderTarget& target);

    [[nodiscard]] Ui& ui() { return ui_; }

  private:
    struct Context;
    bool apply(const sf::Event& event);  // false: must wait for the next frame
    bool apply_key(const sf::Event::KeyEvent& key, bool down);
    bool apply_button(unsigned button, bool down);

    std::unique_ptr<Context> context_;
    std::deque<sf::Event> waiting_;
    std::string clipboard_;
    Ui ui_;
};

}  // namespace graftwright
