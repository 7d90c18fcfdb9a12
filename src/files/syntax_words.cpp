#include "files/syntax_words.h"

#include <algorithm>
#include <cctype>

#include "base/plain_text.h"

namespace graftwright {
namespace {

bool part_of_word(char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '+' || c == '-' || c == '.';
}

// The word around an offset: the library stops inside it, at the first letter that does not fit.
std::string_view word_at(std::string_view text, std::size_t offset) {
    if (offset >= text.size()) return {};
    std::size_t first = offset;
    std::size_t last = offset;
    if (!part_of_word(text[offset])) {
        if (first == 0 || !part_of_word(text[first - 1]))
            return text.substr(offset, std::max(std::size_t{1}, utf8_at(text, offset).length));
        --first;  // the character after a word gave it away
        --last;
    }
    while (first > 0 && part_of_word(text[first - 1])) --first;
    while (last + 1 < text.size() && part_of_word(text[last + 1])) ++last;
    return text.substr(first, last + 1 - first);
}

bool says_not_finite(std::string_view word) {
    std::string low;
    for (const char c : word)
        if (std::isalpha(static_cast<unsigned char>(c)) != 0)
            low += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return low == "nan" || low == "inf" || low == "infinity";
}

// What the library says it waited for, in our words.
std::string expectation(std::string_view detail) {
    const auto says = [&](std::string_view part) { return detail.find(part) != detail.npos; };
    if (says("while parsing object key")) return "a key in \" quotes";
    if (says("while parsing object separator")) return "a colon after the key";
    if (says("while parsing object")) return "a comma or }";
    if (says("while parsing array")) return "a comma or ]";
    if (says("expected end of input")) return "nothing after the end of the outermost object";
    return "a number, a text in \" quotes, true, false, null, [ or {";
}

}  // namespace

int line_at(std::string_view text, std::size_t offset) {
    const auto end = text.begin() + static_cast<std::ptrdiff_t>(std::min(offset, text.size()));
    return 1 + static_cast<int>(std::count(text.begin(), end, '\n'));
}

std::string in_quotes(std::string_view text) {
    constexpr std::size_t kLongest = 40;
    std::size_t end = std::min(text.size(), kLongest);
    // never leave half a UTF-8 letter behind
    while (end > 0 && end < text.size() && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
    return '"' + one_line(text.substr(0, end)) + (end < text.size() ? "…\"" : "\"");
}

Fault syntax_fault(std::string_view text, std::size_t end, std::string_view detail, const std::string& file_name) {
    const auto says = [&](std::string_view part) { return detail.find(part) != detail.npos; };
    const std::size_t offset = end > 0 ? end - 1 : 0;
    if (offset >= text.size()) {
        const std::size_t last = text.find_last_not_of(" \t\r\n");
        return {file_name, line_at(text, last == text.npos ? 0 : last),
                "the file breaks off here, expected the rest of it: a value, a quote or a closing "
                "bracket is missing"};
    }
    const int line = line_at(text, offset);
    if (says("ill-formed UTF-8") || says("invalid BOM") || utf8_at(text, offset).length == 0)
        return {file_name, line, "a byte that is not UTF-8 text, expected a file saved as UTF-8"};
    if (says("control character"))
        return {file_name, line, "a line end or control character inside a text, expected a closing quote before it"};
    const std::string_view word = word_at(text, offset);
    if (says_not_finite(word)) return {file_name, line, std::string(word) + " is no number, expected a finite number"};
    if (says("number overflow"))
        return {file_name, line,
                std::string(word.substr(0, 40)) + " is too large for a number, expected a finite number"};
    if (says("invalid string"))
        return {file_name, line,
                "a backslash sequence that JSON does not know, expected \\\", \\\\, \\n, \\t or "
                "\\u and four digits"};
    if (word.starts_with('/') || word.starts_with('#'))
        return {file_name, line, "a comment, expected none: JSON has no comments"};
    const std::size_t before = text.substr(0, offset).find_last_not_of(" \t\r\n");
    if ((word == "]" || word == "}") && before != text.npos && text[before] == ',')
        return {file_name, line, "a comma before " + in_quotes(word) + ", expected none after the last entry"};
    return {file_name, line, "unexpected " + in_quotes(word) + ", expected " + expectation(detail)};
}

}  // namespace graftwright
