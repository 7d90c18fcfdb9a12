// The letters: Inter in two weights, asked of Fontconfig.
#pragma once

#include <string>

#include <SFML/Graphics/Font.hpp>

#include "view/kit/canvas.h"

namespace graftwright {

class Letters {
  public:
    Letters();
    [[nodiscard]] const sf::Font& font(Weight weight) const { return weight == Weight::strong ? strong_ : regular_; }
    // "" where Inter was found; else a sentence: which letters stand in for it, or that there are none.
    [[nodiscard]] const std::string& note() const { return note_; }

  private:
    sf::Font regular_, strong_;
    std::string note_;
};

}  // namespace graftwright
