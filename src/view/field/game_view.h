// A level on the screen: what the stage asks to be seen, from one snapshot.
//
// Field, section and console are always in view; the ring check fills the field with the rings alone. The
// debrief is a screen of its own and leaves this one behind it.
#pragma once

#include <memory>
#include <string>

#include "game/snapshot.h"

namespace sf {
class RenderTarget;
}

namespace graftwright {

class GameView {
  public:
    GameView();
    ~GameView();
    GameView(const GameView&) = delete;
    GameView& operator=(const GameView&) = delete;

    void draw(sf::RenderTarget& target, const Snapshot& snapshot);
    [[nodiscard]] double gl_ms() const;      // of the last draw, spent in the library's draw calls
    [[nodiscard]] std::string note() const;  // "" or what is amiss with letters or shading

  private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

}  // namespace graftwright
