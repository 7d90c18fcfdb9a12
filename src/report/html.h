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
    std::string shown = sign ? fmt::format("{:+.{}f}", *value, decimals) : fmt::format("{:.{}f}", *value, decimals);
    if (!shown.empty() && shown.find_first_not_of("+-0.") == std::string::npos) shown.erase(0, shown.find('0'));
    for (std::size_t at = shown.find('-'); at != std::string::npos; at = shown.find('-')) shown.replace(at, 1, "−");
    return fmt::format("<data value=\"{:.10g}\">{}</data>", *value, shown);
}

[[nodiscard]] inline std::string cell(const std::string& content, const char* kind = "td") {
    return fmt::format("<{}>{}</{}>", kind, content, kind);
}

[[nodiscard]] inline std::string header_cell(const std::string& words) {
    return fmt::format("<th scope=\"col\">{}</th>", escaped(words));
}

}  // namespace graftwright
