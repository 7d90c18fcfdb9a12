// An SVG file's text as a PNG's bytes: librsvg and Cairo, letters by Pango and Fontconfig.
//
// Drawn in a process of its own (own_process.h): GLib and Pango end theirs where memory or threads are lacking.
// Any failure (no memory, an SVG that is none, a file that cannot be written) throws: it is the machine's
// fault or ours, never the trainee's.
#pragma once

#include <string>

namespace graftwright {

// width_px: of the picture; its height follows.
[[nodiscard]] std::string png_of_svg(const std::string& svg, int width_px);

}  // namespace graftwright
