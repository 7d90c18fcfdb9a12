// Catch2 3 (Debian 13) under the name and with the words of Catch2 2 (Debian 12), which the tests are written in. On
// the include path only where Catch2 is 3. Left out: matchers of ranges, whose Contains is another one than that of
// texts.
#pragma once

#include <string>

#include <catch2/catch_approx.hpp>
#include <catch2/catch_message.hpp>
#include <catch2/catch_test_macros.hpp>
#include <catch2/catch_tostring.hpp>
#include <catch2/generators/catch_generators_all.hpp>
#include <catch2/matchers/catch_matchers_exception.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_predicate.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>
#include <catch2/matchers/catch_matchers_vector.hpp>

namespace Catch {
namespace Matchers {

inline StringContainsMatcher Contains(const std::string& text, CaseSensitive sensitive = CaseSensitive::Yes) {
    return ContainsSubstring(text, sensitive);
}

}  // namespace Matchers
using namespace Matchers;
}  // namespace Catch

using Catch::Approx;
