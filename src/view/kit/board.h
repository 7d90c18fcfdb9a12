// What a canvas keeps between its calls; only canvas_*.cpp know it.
#pragma once

#include <chrono>
#include <string>
#include <vector>

#include <SFML/Graphics.hpp>

#include "base/point.h"
#include "view/kit/canvas.h"
#include "view/kit/letters.h"

namespace graftwright {

struct Canvas::Board {
    sf::RenderTarget* target = nullptr;
    std::vector<sf::Vertex> triangles;  // waiting to be handed over
    sf::BlendMode blend = sf::BlendAlpha;
    Letters letters;
    sf::Text words;  // one, reused: making anew costs more than it draws
    double gl_ms = 0.0;

    void vertex(Point at, Ink colour, double alpha = 1.0) {
        triangles.emplace_back(sf::Vector2f(static_cast<float>(at.x), static_cast<float>(at.y)),
                               sf::Color(colour.r, colour.g, colour.b, static_cast<sf::Uint8>(colour.a * alpha + 0.5)));
    }
    template <class Draw>
    void timed(const Draw& draw) {
        const auto start = std::chrono::steady_clock::now();
        draw();
        gl_ms += std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
    }
};

}  // namespace graftwright
