// One field of CSV as RFC 4180 has it.
#pragma once

#include <string>

namespace graftwright {

// Quoted where it has to be.
[[nodiscard]] inline std::string csv_field(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
    return quoted + "\"";
}

}  // namespace graftwright
