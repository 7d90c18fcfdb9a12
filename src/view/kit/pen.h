// A pen for plots: lines, circles and words in canvas pixels, on the panel that is being drawn.
#pragma once

#include <string_view>
#include <vector>

#include "base/point.h"
#include "base/rect.h"
#include "view/kit/ui.h"

namespace graftwright {

enum class WordsAt { left, middle, right };

class PlotPen {
  public:
    explicit PlotPen(const Ui& ui) : ui_(ui), draw_(*ImGui::GetWindowDrawList()) {}

    void line(Point from, Point to, ImU32 colour, double width = 1.2) const;
    void dashes(Point from, Point to, ImU32 colour, double width = 1.2, double dash = 5.0) const;
    void way(const std::vector<Point>& points, ImU32 colour, double width = 1.2, bool closed = false) const;
    void arrow(Point from, Point to, ImU32 colour, double width = 2.0, double head = 9.0) const;
    void circle(Point centre, double radius, ImU32 colour, double width = 1.0) const;
    void dashed_circle(Point centre, double radius, ImU32 colour, double width = 1.2) const;
    void disc(Point centre, double radius, ImU32 colour) const;
    void box(const Rect& place, ImU32 colour, double rounding = 0.0) const;
    void quad(Point a, Point b, Point c, Point d, ImU32 colour) const;
    // y: middle of the line of text. `halo` lays the panel's tone around the letters.
    void words(Point at, std::string_view text, Face face, ImU32 colour, WordsAt align = WordsAt::left,
               bool halo = false) const;
    [[nodiscard]] ImDrawList& list() const { return draw_; }
    [[nodiscard]] ImVec2 on_window(Point p) const { return ui_.at(p.x, p.y); }

  private:
    const Ui& ui_;
    ImDrawList& draw_;
};

}  // namespace graftwright
