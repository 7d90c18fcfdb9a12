// The report: one closure a teacher can read, as one HTML file that needs nothing else.
//
// No script, no link to anywhere, pictures as inline SVG. Two sheets: they stand beside or below each other on a
// screen and print on two A4 pages (up to 64 bites). Numbers stand as <data value="…"> with ten
// digits, as in --json, and are shown rounded. A closure that was not found shows its reason and no number
// that it does not have. No clock: the only date is the attempt's own label.
#pragma once

#include <string>
#include <string_view>

#include "report/case.h"
#include "report/picture.h"

namespace graftwright {

[[nodiscard]] std::string report_html(const Case& what);

}  // namespace graftwright
