// A field for a text of several lines that breaks long ones at its edge.
//
// The widgets' own field does not break lines. Here a space at the edge is shown as a line's end, and back
// again in what comes out; an end of the writer's own is shown with the sign ¶ before it.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "view/kit/ui.h"

namespace graftwright {

using Measure = std::function<double(std::string_view)>;  // width of a piece of a line

// The text as it is shown in lines no wider than `width`, unless a word is; and what was shown as text again.
[[nodiscard]] std::string broken_into_lines(const std::string& text, double width, const Measure& measure);
[[nodiscard]] std::string without_breaks(const std::string& shown);

// width, height: design pixels. True when the text changed.
bool wrapped_entry(Ui& ui, const std::string& label, std::string& text, double width, double height);

}  // namespace graftwright
