#include "view/kit/ui.h"

#include <algorithm>

#include <imgui/imgui_stdlib.h>

namespace graftwright {
namespace {

constexpr ImGuiWindowFlags kBareWindow = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                         ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoScrollWithMouse |
                                         ImGuiWindowFlags_NoBringToFrontOnFocus;
constexpr float kNoWrap = 1e6F;

struct ButtonTones {
    Tone rest, hover, letters;
    float rest_alpha;
};
ButtonTones tones_of(ButtonKind kind) {
    switch (kind) {
        case ButtonKind::primary:
            return {tone::accent_deep, tone::accent_hover, tone::text, 1.0F};
        case ButtonKind::quiet:
            return {tone::panel, tone::hover, tone::quiet, 0.0F};
        case ButtonKind::plain:
            break;
    }
    return {tone::raised, tone::hover, tone::text, 1.0F};
}

// Broken into lines of a width at blanks only: the library would also break behind a full stop, in the middle of
// "0.95".
std::string broken_at_blanks(std::string_view words, const ImFont& font, float width) {
    const auto length = [&](std::string_view part) {
        return font.CalcTextSizeA(font.FontSize, kNoWrap, 0.0F, part.data(), part.data() + part.size()).x;
    };
    const float blank = length(" ");
    std::string lines;
    float used = 0.0F;
    for (std::size_t at = 0; at <= words.size();) {
        const std::size_t end = std::min(words.find_first_of(" \n", at), words.size());
        const std::string_view word = words.substr(at, end - at);
        const float size = length(word);
        const bool first = lines.empty() || lines.back() == '\n';
        if (!first && used + blank + size > width) {
            lines += '\n';
            used = 0.0F;
        } else if (!first) {
            lines += ' ';
            used += blank;
        }
        lines += word;
        used += size;
        if (end < words.size() && words[end] == '\n') {
            lines += '\n';
            used = 0.0F;
        }
        at = end + 1;
    }
    return lines;
}

}  // namespace

void Ui::start_frame(float window_width, float window_height) {
    window_ = {window_width, window_height};
    origin_ = {(window_width - px(kCanvasWidth)) / 2.0F, (window_height - px(kCanvasHeight)) / 2.0F};
    places_.clear();
    focused_.clear();
}

void Ui::begin_screen(const char* name, float opacity) {
    ImGui::SetNextWindowPos({0.0F, 0.0F});
    ImGui::SetNextWindowSize(window_);
    ImGui::SetNextWindowBgAlpha(opacity);
    ImGui::Begin(name, nullptr, kBareWindow);
}

void Ui::end_screen() { ImGui::End(); }

void Ui::begin_panel(const char* name, const Rect& place, Tone fill, double inset, bool scrolls) {
    move_to(place.x, place.y);
    ImGui::PushStyleColor(ImGuiCol_ChildBg, ink(fill));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {px(inset), px(inset * 0.8)});
    ImGui::BeginChild(name, {px(place.width), px(place.height)}, false,
                      ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NavFlattened |
                          (scrolls ? 0 : ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse));
    ImGui::PopStyleVar();
    ImGui::PopStyleColor();
}

void Ui::end_panel() { ImGui::EndChild(); }

void Ui::text(std::string_view words, Face face, Tone colour) const { wrapped(words, face, colour, -1.0); }

// width: design pixels; 0 = to the right edge, below = not broken.
void Ui::wrapped(std::string_view words, Face face, Tone colour, double width) const {
    ImGui::PushFont(theme.font(face));
    ImGui::PushStyleColor(ImGuiCol_Text, ink(colour));
    // A word longer than a line is still broken by the library.
    const float room = width > 0.0 ? px(width) : ImGui::GetContentRegionAvail().x;
    const std::string lines = width < 0.0 ? std::string(words) : broken_at_blanks(words, *theme.font(face), room);
    ImGui::PushTextWrapPos(width < 0.0 ? kNoWrap : ImGui::GetCursorPosX() + room);
    ImGui::TextUnformatted(lines.data(), lines.data() + lines.size());
    ImGui::PopTextWrapPos();
    ImGui::PopStyleColor();
    ImGui::PopFont();
}

void Ui::text_at(double x, double y, std::string_view words, Face face, Tone colour) const {
    move_to(x, y);
    text(words, face, colour);
}

double Ui::text_width(std::string_view words, Face face) const {
    const ImFont* font = theme.font(face);
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, kNoWrap, 0.0F, words.data(), words.data() + words.size());
    return static_cast<double>(size.x / theme.scale());
}

std::string Ui::shortened(const std::string& words, Face face, double width) const {
    if (text_width(words, face) <= width) return words;
    const auto starts_letter = [&](std::size_t i) { return (static_cast<unsigned char>(words[i]) & 0xc0U) != 0x80U; };
    const std::size_t keep_front = words.size() / 4;
    std::string shown = words;
    for (std::size_t from = keep_front; from < words.size(); ++from) {
        if (!starts_letter(from)) continue;
        std::size_t front = keep_front;
        while (front > 0 && !starts_letter(front)) --front;
        shown = words.substr(0, front) + "…" + words.substr(from);
        if (text_width(shown, face) <= width) break;
    }
    return shown;
}

double Ui::line_height(Face face) const { return static_cast<double>(theme.font(face)->FontSize / theme.scale()); }

bool Ui::button(const char* label, ButtonKind kind, double width, double height) {
    const ButtonTones tones = tones_of(kind);
    ImGui::PushStyleColor(ImGuiCol_Button, ink(tones.rest, tones.rest_alpha));
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, ink(tones.hover));
    ImGui::PushStyleColor(ImGuiCol_ButtonActive, ink(tones.hover, 0.8F));
    ImGui::PushStyleColor(ImGuiCol_Text, ink(tones.letters));
    const Face face = kind == ButtonKind::primary ? Face::strong : Face::body;
    ImGui::PushFont(theme.font(face));
    // Low buttons have less room above the letters than the style's.
    const ImVec2 usual = ImGui::GetStyle().FramePadding;
    const float above = std::max(0.0F, std::min(usual.y, (px(height) - theme.font(face)->FontSize) / 2.0F));
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {std::min(usual.x, px(8.0)), above});
    const bool pressed = ImGui::Button(label, {px(width), px(height)});
    ImGui::PopStyleVar();
    ImGui::PopFont();
    ImGui::PopStyleColor(4);
    note(label);
    return pressed;
}

bool Ui::check(const char* label, bool& on) {
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {px(4.0), px(4.0)});
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, px(1.0));
    const bool changed = ImGui::Checkbox(label, &on);
    ImGui::PopStyleVar(2);
    note(label);
    return changed;
}

bool Ui::choose(const std::vector<const char*>& labels, int& chosen, double each) {
    bool changed = false;
    for (std::size_t i = 0; i < labels.size(); ++i) {
        if (i > 0) ImGui::SameLine(0.0F, px(4.0));
        const bool on = chosen == static_cast<int>(i);
        if (button(labels[i], on ? ButtonKind::primary : ButtonKind::plain, each, 32.0) && !on) {
            chosen = static_cast<int>(i);
            changed = true;
        }
        if (on) {  // a line under the chosen one: told without colour as well
            const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
            ImGui::GetWindowDrawList()->AddRectFilled({low.x + px(10.0), high.y - px(4.0)},
                                                      {high.x - px(10.0), high.y - px(2.0)}, ink(tone::accent));
        }
    }
    return changed;
}

bool Ui::entry(const char* label, const char* hint, std::string& text, double width) {
    ImGui::SetNextItemWidth(px(width));
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, px(1.0));
    const bool changed = ImGui::InputTextWithHint(label, hint, &text);
    ImGui::PopStyleVar();
    note(label);
    return changed;
}

void Ui::note(std::string_view name) {
    if (ImGui::IsItemFocused()) focused_ = name;
    const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
    places_[std::string(name)] = {static_cast<double>(low.x), static_cast<double>(low.y),
                                  static_cast<double>(high.x - low.x), static_cast<double>(high.y - low.y)};
}

Rect Ui::place_of(std::string_view name) const {
    const auto found = places_.find(name);
    return found == places_.end() ? Rect{} : found->second;
}

}  // namespace graftwright
