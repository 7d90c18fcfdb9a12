// Pictures of snapshots, and how two of them differ. Needs a display (tests/view/CMakeLists.txt gives one).
#pragma once

#include <cmath>
#include <cstdlib>

#include <SFML/Graphics.hpp>
#include <catch2/catch.hpp>

#include "view/field/game_view.h"

namespace graftwright {

inline constexpr unsigned kPictureWidth = 1280, kPictureHeight = 800;

// Drawn as often as it takes until the shaded eye is sharp.
inline sf::Image picture_of(GameView& view, const Snapshot& shot) {
    sf::RenderTexture target;
    REQUIRE(target.create(kPictureWidth, kPictureHeight));
    for (int frame = 0; frame < 12; ++frame) view.draw(target, shot);
    target.display();
    return target.getTexture().copyToImage();
}

inline sf::Image picture_of(const Snapshot& shot) {
    GameView view;
    return picture_of(view, shot);
}

// Pixels that differ by more than a shade, inside a circle of the canvas.
inline int changed(const sf::Image& a, const sf::Image& b, Point centre, double radius) {
    int count = 0;
    for (unsigned y = 0; y < kPictureHeight; ++y)
        for (unsigned x = 0; x < kPictureWidth; ++x) {
            if (std::hypot(x - centre.x, y - centre.y) > radius) continue;
            const sf::Color p = a.getPixel(x, y), q = b.getPixel(x, y);
            count += std::abs(p.r - q.r) + std::abs(p.g - q.g) + std::abs(p.b - q.b) > 24 ? 1 : 0;
        }
    return count;
}

}  // namespace graftwright
