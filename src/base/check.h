// A check for our own bugs: it aborts with the place and a sentence. Never for bad input (Result),
// never for a numerical outcome (status), never for a broken machine (exceptions).
#pragma once

#include <cstdio>
#include <cstdlib>

namespace graftwright {

[[noreturn]] inline void check_failed(const char* file, int line, const char* condition, const char* why) {
    std::fprintf(stderr, "%s:%d: internal error: %s (%s)\n", file, line, why, condition);
    std::abort();
}

}  // namespace graftwright

#define GRAFTWRIGHT_CHECK(condition, why)                                                   \
    do {                                                                                    \
        if (!(condition)) ::graftwright::check_failed(__FILE__, __LINE__, #condition, why); \
    } while (false)
