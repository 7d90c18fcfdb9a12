#include "view/field/game_view.h"

#include <SFML/Graphics/RenderTarget.hpp>

#include "view/field/console_view.h"
#include "view/field/field_view.h"
#include "view/field/ring_screen.h"
#include "view/field/section_view.h"
#include "view/kit/canvas.h"

namespace graftwright {

struct GameView::Parts {
    Canvas canvas;
    FieldView field;
};

GameView::GameView() : parts_(std::make_unique<Parts>()) {}
GameView::~GameView() = default;

void GameView::draw(sf::RenderTarget& target, const Snapshot& snapshot) {
    Canvas& canvas = parts_->canvas;
    const CanvasFit fit = CanvasFit::of(target.getSize().x, target.getSize().y);
    const bool rings = snapshot.stage == Stage::ring_check;
    if (!rings) parts_->field.update(canvas, snapshot, fit.scale);
    target.clear(sf::Color(palette::kRoom.r, palette::kRoom.g, palette::kRoom.b));
    canvas.begin(target, fit);
    draw_header(canvas, snapshot);
    draw_foot(canvas, snapshot);
    if (rings) {
        draw_ring_check(canvas, snapshot);
    } else {
        parts_->field.draw(canvas, snapshot);
        draw_section(canvas, snapshot);
        draw_console(canvas, snapshot);
    }
    canvas.end();
}

double GameView::gl_ms() const { return parts_->canvas.gl_ms(); }

std::string GameView::note() const {
    const std::string letters = parts_->canvas.note();
    return letters.empty() ? parts_->field.note() : letters;
}

}  // namespace graftwright
