#include "view/kit/theme.h"

#include <cmath>

#include <fontconfig/fontconfig.h>
#include <imgui/imgui_freetype.h>

namespace graftwright {
namespace {

// A font's size is asked for as the height of its lines; Inter's are 1.21 em (its hhea table:
// ascender 0.969, descender 0.241).
constexpr float kLineOverEm = 1.21F;

// What the screens write: western European names, Greek and signs of measure, arrows.
constexpr std::array<ImWchar, 19> kLetters{0x0020, 0x00ff, 0x0100, 0x024f, 0x0384, 0x03ce, 0x1e00,
                                           0x1eff, 0x2010, 0x2044, 0x2190, 0x2199, 0x2212, 0x2212,
                                           0x2248, 0x2265, 0x25a0, 0x25cf, 0};
// Titles are few and large; a full set would fill a texture at 4K.
constexpr std::array<ImWchar, 5> kTitleLetters{0x0020, 0x00ff, 0x2010, 0x2026, 0};

}  // namespace

ImU32 ink(Tone tone, float alpha) {
    return IM_COL32(tone.r, tone.g, tone.b, static_cast<int>(std::lround(alpha * 255.0F)));
}

ImVec4 ink_vector(Tone tone, float alpha) {
    constexpr float kFull = 255.0F;
    return {static_cast<float>(tone.r) / kFull, static_cast<float>(tone.g) / kFull, static_cast<float>(tone.b) / kFull,
            alpha};
}

std::string font_file(bool strong) {
    // A configuration of our own: the library's shared one is never given back, which a leak check sees.
    FcConfig* config = FcInitLoadConfigAndFonts();
    if (config == nullptr) return {};
    std::string file;
    FcPattern* pattern = FcPatternCreate();
    FcPatternAddString(pattern, FC_FAMILY, reinterpret_cast<const FcChar8*>("Inter"));
    FcPatternAddString(pattern, FC_FAMILY, reinterpret_cast<const FcChar8*>("sans-serif"));
    FcPatternAddInteger(pattern, FC_WEIGHT, strong ? FC_WEIGHT_DEMIBOLD : FC_WEIGHT_REGULAR);
    FcPatternAddInteger(pattern, FC_SLANT, FC_SLANT_ROMAN);
    FcConfigSubstitute(config, pattern, FcMatchPattern);
    FcDefaultSubstitute(pattern);
    FcResult result = FcResultNoMatch;
    if (FcPattern* match = FcFontMatch(config, pattern, &result)) {
        FcChar8* name = nullptr;
        if (FcPatternGetString(match, FC_FILE, 0, &name) == FcResultMatch) file = reinterpret_cast<const char*>(name);
        FcPatternDestroy(match);
    }
    FcPatternDestroy(pattern);
    FcConfigDestroy(config);
    return file;
}

void Theme::build(float scale) {
    scale_ = scale;
    load_fonts();
    set_style();
}

void Theme::load_fonts() {
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    atlas.Clear();
    atlas.FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
    atlas.FontBuilderFlags = ImGuiFreeTypeBuilderFlags_LightHinting;
    static const std::string regular = font_file(false), strong = font_file(true);  // asking takes milliseconds
    for (std::size_t i = 0; i < kFaces; ++i) {
        const Face face = static_cast<Face>(i);
        const bool plain = face == Face::small || face == Face::body;
        const std::string& file = plain ? regular : strong;
        ImFontConfig config;
        config.OversampleH = 1;
        config.GlyphRanges = face == Face::title ? kTitleLetters.data() : kLetters.data();
        const float lines = std::round(px(kFaceEm[i]) * kLineOverEm);
        fonts_[i] = file.empty() ? nullptr : atlas.AddFontFromFileTTF(file.c_str(), lines, &config);
        if (fonts_[i] == nullptr) {
            config.SizePixels = lines;
            fonts_[i] = atlas.AddFontDefault(&config);
        }
    }
    ImGui::GetIO().FontDefault = font(Face::body);
    atlas.Build();
}

void Theme::set_style() const {
    ImGuiStyle style;  // of its own, so that building twice doesn't scale twice
    style.WindowPadding = {0.0F, 0.0F};
    style.WindowBorderSize = 0.0F;
    style.WindowRounding = 0.0F;
    style.ChildRounding = 10.0F;
    style.PopupRounding = 10.0F;
    style.FrameRounding = 7.0F;
    style.GrabRounding = 7.0F;
    style.ScrollbarRounding = 6.0F;
    style.FramePadding = {14.0F, 8.0F};
    style.ItemSpacing = {12.0F, 8.0F};
    style.ItemInnerSpacing = {10.0F, 6.0F};
    style.CellPadding = {7.0F, 3.0F};
    style.ScrollbarSize = 12.0F;
    style.GrabMinSize = 18.0F;
    style.ScaleAllSizes(scale_);
    style.AntiAliasedLinesUseTex = false;

    ImVec4* colour = style.Colors;
    const auto set = [&](ImGuiCol which, Tone tone, float alpha = 1.0F) { colour[which] = ink_vector(tone, alpha); };
    for (int i = 0; i < ImGuiCol_COUNT; ++i) set(i, tone::raised);  // nothing of the library's own blue
    set(ImGuiCol_Text, tone::text);
    set(ImGuiCol_TextDisabled, tone::quiet);
    set(ImGuiCol_WindowBg, tone::background);
    set(ImGuiCol_ChildBg, tone::panel, 0.0F);
    set(ImGuiCol_PopupBg, tone::panel);
    set(ImGuiCol_Border, tone::line);
    set(ImGuiCol_BorderShadow, tone::line, 0.0F);
    set(ImGuiCol_FrameBgHovered, tone::hover);
    set(ImGuiCol_FrameBgActive, tone::hover);
    set(ImGuiCol_ScrollbarBg, tone::panel, 0.0F);
    set(ImGuiCol_ScrollbarGrab, tone::line);
    set(ImGuiCol_ScrollbarGrabHovered, tone::quiet, 0.6F);
    set(ImGuiCol_ScrollbarGrabActive, tone::quiet, 0.8F);
    set(ImGuiCol_CheckMark, tone::accent);
    set(ImGuiCol_SliderGrab, tone::accent);
    set(ImGuiCol_SliderGrabActive, tone::accent);
    set(ImGuiCol_ButtonHovered, tone::hover);
    set(ImGuiCol_ButtonActive, tone::line);
    set(ImGuiCol_HeaderHovered, tone::hover);
    set(ImGuiCol_HeaderActive, tone::line);
    set(ImGuiCol_Separator, tone::line);
    set(ImGuiCol_TableHeaderBg, tone::panel);
    set(ImGuiCol_TableBorderStrong, tone::line);
    set(ImGuiCol_TableBorderLight, tone::line, 0.5F);
    set(ImGuiCol_TableRowBg, tone::panel, 0.0F);
    set(ImGuiCol_TableRowBgAlt, tone::raised, 0.35F);
    set(ImGuiCol_TextSelectedBg, tone::accent_deep);
    set(ImGuiCol_NavHighlight, tone::accent);
    set(ImGuiCol_NavWindowingHighlight, tone::accent, 0.0F);
    set(ImGuiCol_NavWindowingDimBg, tone::background, 0.0F);
    set(ImGuiCol_ModalWindowDimBg, tone::background, 0.75F);
    ImGui::GetStyle() = style;
}

}  // namespace graftwright
