// What a broken machine's exception says to people. Needs no memory, which may be what is missing.
#pragma once

#include <exception>
#include <new>

namespace graftwright {

[[nodiscard]] inline const char* sentence_of(const std::exception& error) {
    return dynamic_cast<const std::bad_alloc*>(&error) != nullptr ? "there is not enough memory" : error.what();
}

}  // namespace graftwright
