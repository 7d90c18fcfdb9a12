// One picture of a report as a file of its own, for a slide: `score --svg`, `score --png`.
//
// Attempt and ideal twin stand beside each other where both can be shown. Every file carries whose closure it
// is, program and model, and the cautions.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "report/case.h"
#include "report/picture.h"

namespace graftwright {

enum class PictureKind { overview, axial, tangential, rings, shares, leak, sections, trade_off };

struct PictureName {
    PictureKind kind;
    const char* name;
};
inline constexpr std::array<PictureName, 8> kPictureNames = {{
    {PictureKind::overview, "overview"},
    {PictureKind::axial, "axial"},
    {PictureKind::tangential, "tangential"},
    {PictureKind::rings, "rings"},
    {PictureKind::shares, "shares"},
    {PictureKind::leak, "leak"},
    {PictureKind::sections, "sections"},
    {PictureKind::trade_off, "trade-off"},
}};
[[nodiscard]] std::optional<PictureKind> picture_kind(std::string_view name);

[[nodiscard]] Picture single_picture(const Case& what, PictureKind kind);
// The whole file, cautions included.
[[nodiscard]] std::string picture_svg(const Case& what, PictureKind kind);
// The same as PNG, so many pixels wide; 0: three times the picture's own size, at most 1920.
[[nodiscard]] std::string picture_png(const Case& what, PictureKind kind, int width_px = 0);

}  // namespace graftwright
