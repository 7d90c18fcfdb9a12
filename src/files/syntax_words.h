// Where a text stops being JSON, in words for people. Private to this room.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/result.h"

namespace graftwright {

// end: how many characters the library had read when it gave up. detail: its own sentence.
[[nodiscard]] Fault syntax_fault(std::string_view text, std::size_t end, std::string_view detail,
                                 const std::string& file_name);

// The line, from 1, that a byte of the text stands in.
[[nodiscard]] int line_at(std::string_view text, std::size_t offset);

// A piece of text for a message: in quotes, shortened, fit to be shown in one line.
[[nodiscard]] std::string in_quotes(std::string_view text);

}  // namespace graftwright
