// A picture of the report: what it shows in words, its size, its canvas. As part of a page, or alone.
//
// Alone it carries the cautions, as every output of this program does; on a page the page carries them.
#pragma once

#include <string>

#include "report/svg.h"

namespace graftwright {

// A panel on the page: all have this width, so that they stand in columns.
inline constexpr double kPanelWidth = 380.0, kPanelHeight = 424.0;

struct Picture {
    std::string name;         // unique in a page; letters and hyphens
    std::string title;        // a few words
    std::string description;  // for who cannot see it
    double width = kPanelWidth, height = kPanelHeight;
    SvgCanvas canvas;
};

// The heading every panel starts with: title, and what is to be read in it.
[[nodiscard]] Picture panel(std::string name, std::string title, std::string description);

// An <svg> element for a page.
[[nodiscard]] std::string inline_svg(const Picture& picture);
// A file of its own: the picture, whose it is (may be ""), and the cautions.
[[nodiscard]] std::string standalone_svg(const Picture& picture, const std::string& subject);

}  // namespace graftwright
