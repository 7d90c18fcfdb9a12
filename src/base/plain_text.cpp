#include "base/plain_text.h"

namespace graftwright {
namespace {

std::string replaced(std::string_view text, bool keep_line_ends) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size();) {
        const auto [code, length] = utf8_at(text, i);
        const bool control = code < 0x20 || (code >= 0x7F && code < 0xA0);
        const bool line_end = code == '\n' || (code == '\r' && text.substr(i + 1, 1) == "\n");
        const bool kept = length > 0 && !turns_text(code) && (!control || (line_end && keep_line_ends));
        out += kept ? text.substr(i, length) : kReplacement;
        i += length > 0 ? length : 1;
    }
    return out;
}

}  // namespace

Utf8Character utf8_at(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned first = byte(at);
    if (first < 0x80) return {first, 1};
    const std::size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
    if (first < 0xC2 || first > 0xF4 || at + length > text.size()) return {};
    char32_t code = first & (0xFFU >> (length + 1));
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(at + i) & 0xC0U) != 0x80U) return {};
        code = (code << 6U) | (byte(at + i) & 0x3FU);
    }
    const char32_t smallest = length == 2 ? 0x80 : length == 3 ? 0x800 : 0x10000;
    if (code < smallest || code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF)) return {};
    return {code, length};
}

std::string terminal_text(std::string_view text) { return replaced(text, true); }
std::string one_line(std::string_view words) { return replaced(words, false); }

}  // namespace graftwright
