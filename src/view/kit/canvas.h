// The drawing board: shapes and words in design pixels (game/layout.h), scaled to any window.
//
// Lines are strips of triangles with a soft edge of 1.2 device pixels, so they are smooth without
// multisampling (which costs most of a frame in software). Everything between begin() and end() goes to one
// target; shapes are collected and handed over in as few calls as the order of drawing allows.
// Letters are Inter, found by Fontconfig; without it whatever Fontconfig offers, and note() says so.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/point.h"
#include "base/rect.h"
#include "game/layout.h"
#include "view/kit/palette.h"

namespace sf {
class RenderTarget;
class Texture;
class Shader;
}  // namespace sf

namespace graftwright {

// How the canvas stands in a window: enlarged by min(w/1280, h/800), centred.
struct CanvasFit {
    double scale = 1.0, left = 0.0, top = 0.0;

    [[nodiscard]] static CanvasFit of(double window_width, double window_height);
    [[nodiscard]] Point to_window(Point canvas) const { return {left + canvas.x * scale, top + canvas.y * scale}; }
    [[nodiscard]] Point to_canvas(Point window) const { return {(window.x - left) / scale, (window.y - top) / scale}; }
};

enum class Align { left, centre, right };
enum class Weight { regular, strong };
inline constexpr double kLeastText = 14.0;  // design's least size of letters

struct StripPoint {
    Point at;
    double width = 1.0;
    Ink ink;
};

class Canvas {
  public:
    Canvas();
    ~Canvas();

    void begin(sf::RenderTarget& target);
    void begin(sf::RenderTarget& target, const CanvasFit& fit);  // for pictures of their own scale
    void end();
    [[nodiscard]] const CanvasFit& fit() const { return fit_; }
    [[nodiscard]] const std::string& note() const;  // "" or what is amiss with the letters
    [[nodiscard]] double gl_ms() const;             // spent in the library's draw calls since begin()

    void clip(const Rect& place);  // nothing outside is drawn, until unclip()
    void unclip();
    void shine(bool on);  // add light instead of covering

    void strip(std::span<const StripPoint> points, bool closed = false);
    void line(Point from, Point to, double width, Ink colour);
    void polyline(std::span<const Point> points, double width, Ink colour, bool closed = false);
    void dashed(std::span<const Point> points, double width, Ink colour, double dash, double gap);
    void disc(Point centre, double radius, Ink colour);
    void glow(Point centre, double radius, Ink colour);  // fades to nothing at the radius
    void circle(Point centre, double radius, double width, Ink colour);
    void arc(Point centre, double radius, double from_rad, double to_rad, double width, Ink colour);
    void ribbon(std::span<const Point> one, std::span<const Point> other, Ink colour_one, Ink colour_other);
    void fill(std::span<const Point> convex, Ink colour);
    void panel(const Rect& place, double radius, Ink colour, Ink edge);
    void triangle_sign(Point centre, double size);  // the warning's shape

    // Words with their base line at `at`; returns their width.
    double text(Point at, std::string_view words, double size, Ink colour, Align align = Align::left,
                Weight weight = Weight::regular);
    [[nodiscard]] double text_width(std::string_view words, double size, Weight weight = Weight::regular);
    // Broken into lines of the place's width, the last one cut short where there are more; returns lines drawn.
    int paragraph(const Rect& place, std::string_view words, double size, Ink colour, Weight weight = Weight::regular,
                  Align align = Align::left);

    // A texture's part (its own pixels) over a place.
    void picture(const sf::Texture& texture, const Rect& place, const Rect& part);

  private:
    struct Board;
    void device_strip(const std::vector<StripPoint>& points, bool closed);
    void device_fill(const std::vector<Point>& polygon, Ink colour);
    void flush();

    std::unique_ptr<Board> board_;
    CanvasFit fit_;
};

// Points along a circle's arc, for strips of one's own.
[[nodiscard]] std::vector<Point> arc_points(Point centre, double radius, double from_rad, double to_rad, int count);

}  // namespace graftwright
