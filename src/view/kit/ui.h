// What our screens are put together from: a canvas, panels, buttons, lines of text.
//
// Places are design pixels of the 1280 × 800 canvas, which every window shows enlarged by
// min(w/1280, h/800), centred, on a background that fills the rest: what fits once fits on every
// screen. Every control notes where it stands by its label, so that scripted hands can point at it by
// name. Used between Widgets::begin and Widgets::draw.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/rect.h"
#include "game/layout.h"
#include "view/kit/theme.h"

namespace graftwright {

enum class ButtonKind { primary, plain, quiet };

class Ui {
  public:
    Theme theme;
    bool reduced_motion = false;

    void start_frame(float window_width, float window_height);
    [[nodiscard]] float px(double design) const { return theme.px(static_cast<float>(design)); }
    [[nodiscard]] ImVec2 at(double x, double y) const { return {origin_.x + px(x), origin_.y + px(y)}; }

    // A screen fills the window; `dim` lets what is behind shine through.
    void begin_screen(const char* name, float opacity = 1.0F);
    void end_screen();
    // A rounded panel in canvas pixels, with room inside its edge; a scroll bar comes by itself.
    void begin_panel(const char* name, const Rect& place, Tone fill = tone::panel, double inset = 18.0,
                     bool scrolls = true);
    void end_panel();
    // The next control stands here (canvas).
    void move_to(double x, double y) const { ImGui::SetCursorScreenPos(at(x, y)); }

    void text(std::string_view words, Face face = Face::body, Tone colour = tone::text) const;
    void wrapped(std::string_view words, Face face = Face::body, Tone colour = tone::text, double width = 0.0) const;
    void text_at(double x, double y, std::string_view words, Face face = Face::body, Tone colour = tone::text) const;
    [[nodiscard]] double text_width(std::string_view words, Face face) const;  // design pixels
    // Cut in its middle, where a path says least, to fit a width.
    [[nodiscard]] std::string shortened(const std::string& words, Face face, double width) const;
    [[nodiscard]] double line_height(Face face) const;
    void gap(double height) const { ImGui::Dummy({1.0F, px(height)}); }

    // width 0: as wide as the label asks for. After "##" in a label nothing is shown.
    bool button(const char* label, ButtonKind kind = ButtonKind::plain, double width = 0.0, double height = 38.0);
    bool check(const char* label, bool& on);
    // One of several, side by side; true when it changed.
    bool choose(const std::vector<const char*>& labels, int& chosen, double each);
    bool entry(const char* label, const char* hint, std::string& text, double width);
    // Notes the place of the last item under a name.
    void note(std::string_view name);
    // Window pixels of a control drawn in the last frame; empty where there was none.
    [[nodiscard]] Rect place_of(std::string_view name) const;
    // Name of the control that had the keyboard's focus in the last frame; "" where none had.
    [[nodiscard]] const std::string& focused() const { return focused_; }

  private:
    ImVec2 origin_, window_;
    std::map<std::string, Rect, std::less<>> places_;
    std::string focused_;
};

}  // namespace graftwright
