// The validator's errors in words for people. Private to this room.
#pragma once

#include <string>
#include <vector>

#include "files/document.h"

namespace graftwright {

// One error of the validator: the way from the root to the value, and its own sentence.
struct SchemaError {
    std::vector<std::string> way;  // keys and indices
    std::string sentence;
};

// Errors that only repeat an inner one are dropped, and several about one value become one.
[[nodiscard]] Findings findings_from(const std::vector<SchemaError>& errors, const Json& root, const Json& schema,
                                     const std::string& base_pointer);

// "/bites/2/tension_mN" as "bite 3: tension_mN", "/eye/side" as "eye.side",
// "/start/bites/0" as "start, bite 1".
[[nodiscard]] std::string place_name(const std::string& pointer);

// 15 as "15", 0.1 as "0.1".
[[nodiscard]] std::string number_words(double value);

// Any value in a few words: the text in quotes, the number, "a list of 3".
[[nodiscard]] std::string value_words(const Json& value);

}  // namespace graftwright
