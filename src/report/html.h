// Small pieces of HTML that the tables are made of.
#pragma once

#include <optional>
#include <string>

#include <fmt/format.h>

#include "report/svg.h"

namespace graftwright {

// A number as people and programs read it: ten digits in the attribute, `decimals` shown, "–" where there is none.
[[nodiscard]] inline std::string number_cell(std::optional<double> value, int decimals, bool sign = false) {
    if (!value) return "–";
    return fmt::format("<data value=\"{:.10g}\">{}</data>", *value, shown_number(*value, decimals, sign));
}

[[nodiscard]] inline std::string cell(const std::string& content, const char* kind = "td") {
    return fmt::format("<{}>{}</{}>", kind, content, kind);
}

[[nodiscard]] inline std::string header_cell(const std::string& words) {
    return fmt::format("<th scope=\"col\">{}</th>", escaped(words));
}

}  // namespace graftwright
