#include "view/kit/canvas.h"

#include <cmath>

#include "view/kit/board.h"

namespace graftwright {
namespace {

sf::String utf8(std::string_view words) { return sf::String::fromUtf8(words.begin(), words.end()); }

// Where a line of words may be broken: before each next word.
std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words;
    std::size_t start = 0;
    while (start < text.size()) {
        const std::size_t space = std::min(text.find(' ', start), text.size());
        if (space > start) words.emplace_back(text.substr(start, space - start));
        start = space + 1;
    }
    return words;
}

}  // namespace

CanvasFit CanvasFit::of(double window_width, double window_height) {
    const double scale = std::min(window_width / kCanvasWidth, window_height / kCanvasHeight);
    return {scale, std::floor((window_width - kCanvasWidth * scale) / 2.0),
            std::floor((window_height - kCanvasHeight * scale) / 2.0)};
}

Canvas::Canvas() : board_(std::make_unique<Board>()) {}
Canvas::~Canvas() = default;

const std::string& Canvas::note() const { return board_->letters.note(); }
double Canvas::gl_ms() const { return board_->gl_ms; }

void Canvas::begin(sf::RenderTarget& target) { begin(target, CanvasFit::of(target.getSize().x, target.getSize().y)); }

void Canvas::begin(sf::RenderTarget& target, const CanvasFit& fit) {
    board_->target = &target;
    board_->triangles.clear();
    board_->blend = sf::BlendAlpha;
    board_->gl_ms = 0.0;
    fit_ = fit;
    unclip();
}

void Canvas::end() {
    unclip();
    board_->target = nullptr;
}

void Canvas::flush() {
    Board& board = *board_;
    if (board.triangles.empty() || board.target == nullptr) return;
    board.timed([&] {
        board.target->draw(board.triangles.data(), board.triangles.size(), sf::Triangles,
                           sf::RenderStates(board.blend));
    });
    board.triangles.clear();
}

// The view's window keeps coordinates as they are and lets nothing show outside of it.
void Canvas::clip(const Rect& place) {
    flush();
    const sf::Vector2u size = board_->target->getSize();
    const Point corner = fit_.to_window({place.x, place.y});
    const Point end = fit_.to_window({place.x + place.width, place.y + place.height});
    const auto left = static_cast<float>(std::round(corner.x)), top = static_cast<float>(std::round(corner.y));
    const auto width = static_cast<float>(std::round(end.x)) - left,
               height = static_cast<float>(std::round(end.y)) - top;
    sf::View view(sf::FloatRect(left, top, width, height));
    const auto whole_width = static_cast<float>(size.x), whole_height = static_cast<float>(size.y);
    view.setViewport({left / whole_width, top / whole_height, width / whole_width, height / whole_height});
    board_->target->setView(view);
}

void Canvas::unclip() {
    flush();
    const sf::Vector2u size = board_->target->getSize();
    board_->target->setView(
        sf::View(sf::FloatRect(0.0F, 0.0F, static_cast<float>(size.x), static_cast<float>(size.y))));
}

void Canvas::shine(bool on) {
    flush();
    board_->blend = on ? sf::BlendAdd : sf::BlendAlpha;
}

double Canvas::text(Point at, std::string_view words, double size, Ink colour, Align align, Weight weight) {
    if (words.empty()) return 0.0;
    flush();
    Board& board = *board_;
    const double letters_px = std::max(1.0, std::round(size * fit_.scale));
    sf::Text& text = board.words;
    text.setFont(board.letters.font(weight));
    text.setCharacterSize(static_cast<unsigned>(letters_px));
    text.setString(utf8(words));
    text.setFillColor({colour.r, colour.g, colour.b, colour.a});
    const double width_px =
        static_cast<double>(text.findCharacterPos(text.getString().getSize()).x - text.getPosition().x);
    const double shift = align == Align::left ? 0.0 : align == Align::right ? width_px : width_px / 2.0;
    const Point base = fit_.to_window(at);
    // Whole pixels keep letters crisp; the library puts the base line one letter size below the position.
    text.setPosition(static_cast<float>(std::round(base.x - shift)),
                     static_cast<float>(std::round(base.y) - letters_px));
    board.timed([&] { board.target->draw(text); });
    return width_px / fit_.scale;
}

double Canvas::text_width(std::string_view words, double size, Weight weight) {
    sf::Text& text = board_->words;
    text.setFont(board_->letters.font(weight));
    text.setCharacterSize(static_cast<unsigned>(std::max(1.0, std::round(size * fit_.scale))));
    text.setString(utf8(words));
    return static_cast<double>(text.findCharacterPos(text.getString().getSize()).x - text.getPosition().x) / fit_.scale;
}

int Canvas::paragraph(const Rect& place, std::string_view words, double size, Ink colour, Weight weight, Align align) {
    constexpr double kLeading = 1.35;
    const int most = std::max(1, static_cast<int>(place.height / (size * kLeading)));
    std::vector<std::string> lines(1);
    for (const std::string& word : words_of(words)) {
        const std::string longer = lines.back().empty() ? word : lines.back() + " " + word;
        if (lines.back().empty() || text_width(longer, size, weight) <= place.width) {
            lines.back() = longer;
        } else if (static_cast<int>(lines.size()) == most) {
            lines.back() += " …";
            break;
        } else {
            lines.push_back(word);
        }
    }
    const double x = place.x + (align == Align::left ? 0.0 : align == Align::right ? place.width : place.width / 2.0);
    double base = place.y + size;
    for (const std::string& line : lines) {
        text({x, base}, line, size, colour, align, weight);
        base += size * kLeading;
    }
    return static_cast<int>(lines.size());
}

void Canvas::picture(const sf::Texture& texture, const Rect& place, const Rect& part) {
    flush();
    const Point from = fit_.to_window({place.x, place.y});
    const Point to = fit_.to_window({place.x + place.width, place.y + place.height});
    const auto corner = [](double x, double y, double u, double v) {
        return sf::Vertex({static_cast<float>(x), static_cast<float>(y)}, sf::Color::White,
                          {static_cast<float>(u), static_cast<float>(v)});
    };
    const sf::Vertex quad[] = {corner(from.x, from.y, part.x, part.y),
                               corner(to.x, from.y, part.x + part.width, part.y),
                               corner(from.x, to.y, part.x, part.y + part.height),
                               corner(to.x, to.y, part.x + part.width, part.y + part.height)};
    sf::RenderStates states;
    states.texture = &texture;
    board_->timed([&] { board_->target->draw(quad, 4, sf::TriangleStrip, states); });
}

}  // namespace graftwright
