// Text of somebody else's, made fit to be shown.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace graftwright {

// The character of UTF-8 that begins at `at`; length 0 where the bytes there are none (too short, overlong,
// half of a surrogate pair, beyond U+10FFFF).
struct Utf8Character {
    char32_t code = 0;
    std::size_t length = 0;
};
[[nodiscard]] Utf8Character utf8_at(std::string_view text, std::size_t at);

// Turns what follows around: a reader would see other words than those that stand there.
[[nodiscard]] constexpr bool turns_text(char32_t code) {
    return (code >= 0x202A && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
}

// Takes the place of what may not be shown.
inline constexpr std::string_view kReplacement = "\xEF\xBF\xBD";  // U+FFFD

// For a terminal, which obeys control characters: each of them (C0, DEL, C1), each byte that is no UTF-8 and
// each sign that turns text around becomes U+FFFD. Line ends stay.
[[nodiscard]] std::string terminal_text(std::string_view text);
// The same for words within a line, whose line ends would make lines that nobody wrote.
[[nodiscard]] std::string one_line(std::string_view words);

}  // namespace graftwright
