// The look of all screens that are not the field: tones, faces and their sizes, rounded frames.
//
// Sizes are design pixels of the 1280 × 800 canvas (game/layout.h); a window shows them times its scale,
// and the letters are drawn anew at that scale, never stretched. Inter, found by Fontconfig; the next
// best sans serif where it is missing. One accent (teal), one warning (amber), both told apart by
// lightness as well, and no colour carries meaning alone.
#pragma once

#include <array>
#include <cstdint>
#include <string>

#include <imgui/imgui.h>

namespace graftwright {

struct Tone {
    std::uint8_t r, g, b;
};

namespace tone {
inline constexpr Tone background{0x12, 0x18, 0x1c}, panel{0x19, 0x22, 0x28}, raised{0x24, 0x30, 0x38};
inline constexpr Tone hover{0x2d, 0x3c, 0x45}, line{0x39, 0x48, 0x51};
inline constexpr Tone text{0xee, 0xe7, 0xdb};   // on panel 13:1
inline constexpr Tone quiet{0xb5, 0xb4, 0xab};  // on panel 7.8:1
inline constexpr Tone accent{0x56, 0xc4, 0xb7}, accent_deep{0x1d, 0x62, 0x5e}, accent_hover{0x26, 0x77, 0x71};
inline constexpr Tone warning{0xe8, 0xad, 0x4e}, warning_deep{0x3b, 0x30, 0x1c};
}  // namespace tone

[[nodiscard]] ImU32 ink(Tone tone, float alpha = 1.0F);
[[nodiscard]] ImVec4 ink_vector(Tone tone, float alpha = 1.0F);

enum class Face { small, body, strong, heading, title };
inline constexpr std::size_t kFaces = 5;
// Size of the letters (em, design pixels). The smallest is the smallest allowed anywhere.
inline constexpr std::array<float, kFaces> kFaceEm{14.0F, 15.5F, 15.5F, 19.0F, 34.0F};

class Theme {
  public:
    // Fonts and style for a scale (window pixels per design pixel); needs a current ImGui context.
    void build(float scale);

    [[nodiscard]] float scale() const { return scale_; }
    [[nodiscard]] float px(float design) const { return design * scale_; }
    [[nodiscard]] ImFont* font(Face face) const { return fonts_[static_cast<std::size_t>(face)]; }

  private:
    void load_fonts();
    void set_style() const;

    float scale_ = 0.0F;
    std::array<ImFont*, kFaces> fonts_{};
};

// File of a face of Inter (or what Fontconfig gives in its stead); "" where there is no font at all.
[[nodiscard]] std::string font_file(bool strong);

}  // namespace graftwright
