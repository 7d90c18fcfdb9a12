// A canvas that writes SVG: lines, circles, paths, words. Nothing is drawn, only written down.
//
// Units are the picture's own (one unit = one CSS pixel at full size); y runs DOWN, as SVG has it.
// Presentation is written on each element (no style sheet), so that a piece cut out of a page looks the
// same. Words are escaped here and nowhere else; characters that XML cannot hold become U+FFFD. Numbers
// are written with two decimals at most and never by the locale. Fonts are named, not shipped: whoever
// shows the picture brings his own sans serif, so no word may have to fit to the pixel.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/point.h"
#include "base/words.h"

namespace graftwright {

using CanvasPoint = Point;

struct SvgPen {
    std::string colour = "#1d2126";
    double width = 1.0;
    std::string dash;  // lengths on and off, "" : solid
};

struct Lettering {
    double size = 13.0;
    enum class Anchor { start, middle, end } anchor = Anchor::start;
    bool bold = false;
    std::string colour = "#1d2126";
    bool halo = false;  // a light edge, for words over a picture
};

// The inks of all pictures. Attempt and ideal differ in darkness and, wherever they meet, in dash or shape.
inline constexpr const char* kInk = "#1d2126";
inline constexpr const char* kSoftInk = "#565d66";
inline constexpr const char* kFaintInk = "#c3c8ce";
inline constexpr const char* kPaper = "#ffffff";
inline constexpr const char* kPanel = "#f3f4f6";
inline constexpr const char* kAttemptInk = "#123a73";
inline constexpr const char* kIdealInk = "#a8661a";

// For text and attribute values of XML and HTML alike.
[[nodiscard]] std::string escaped(std::string_view text);
// At most two decimals, no trailing zeros, no minus zero.
[[nodiscard]] std::string svg_number(double value);

// A number for people: rounded, a true minus sign, no minus zero; with `sign` a plus too.

class SvgCanvas {
  public:
    void line(CanvasPoint from, CanvasPoint to, const SvgPen& pen = {});
    void circle(CanvasPoint centre, double radius, const std::string& fill, const SvgPen& pen = {});
    void rectangle(CanvasPoint corner, double width, double height, const std::string& fill, const SvgPen& pen = {});
    // closed and filled, or open with fill "none". No points: nothing.
    void polygon(const std::vector<CanvasPoint>& points, const std::string& fill, const SvgPen& pen = {});
    void polyline(const std::vector<CanvasPoint>& points, const SvgPen& pen = {});
    // Several closed loops filled by the even-odd rule.
    void loops(const std::vector<std::vector<CanvasPoint>>& loops, const std::string& fill, const SvgPen& pen = {});
    void arrow(CanvasPoint from, CanvasPoint to, const SvgPen& pen, double head = 8.0);
    void text(CanvasPoint baseline, std::string_view words, const Lettering& lettering = {});
    // Lines of words below each other; returns the baseline after the last.
    double paragraph(CanvasPoint baseline, std::string_view words, double width, const Lettering& lettering,
                     double leading);
    // What is drawn until end_clip shows inside the circle only. The id must be unique in the page.
    void begin_clip(const std::string& id, CanvasPoint centre, double radius);
    void end_clip();
    // Another canvas, moved and scaled.
    void place(const SvgCanvas& other, CanvasPoint at, double scale = 1.0);

    [[nodiscard]] const std::string& body() const { return body_; }

  private:
    std::string body_;
};

// About how wide words come out: no font is at hand, so a typical sans serif's mean.
[[nodiscard]] double typical_width(std::string_view words, double size);
// Words broken into lines that are typically no wider than this.
[[nodiscard]] std::vector<std::string> broken_into_lines(std::string_view words, double size, double width);
// (centre + radius (cos, −sin)): angles counter-clockwise on a canvas whose y runs down.
[[nodiscard]] CanvasPoint around(CanvasPoint centre, double radius, double angle_deg);

}  // namespace graftwright
