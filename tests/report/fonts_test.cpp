// A picture has letters or is not drawn.
#include "report/fonts.h"

#include <memory>

#include <catch2/catch.hpp>
#include <fontconfig/fontconfig.h>

#include "report/raster.h"

using namespace graftwright;

namespace {

// As on a machine whose Fontconfig was told of no folder at all.
std::unique_ptr<FcConfig, decltype(&FcConfigDestroy)> knowing_nothing() { return {FcConfigCreate(), FcConfigDestroy}; }

std::string drawn(const std::string& words) {
    return png_of_svg(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200\" height=\"40\" font-family=\"Inter\">"
        "<text x=\"5\" y=\"30\" font-size=\"20\" fill=\"white\">" +
            words + "</text></svg>",
        200);
}

}  // namespace

TEST_CASE("fonts: where there is none, a sentence says so instead of a picture of boxes", "[report]") {
    CHECK_THROWS_WITH(bring_letters(knowing_nothing().get(), "/no/such/folder"),
                      "there is no font for its letters; install fonts-inter");
    CHECK_THROWS_WITH(bring_letters(nullptr, "/no/such/folder"),
                      "there is no font for its letters; install fonts-inter");
}

TEST_CASE("fonts: Inter's own files serve where Fontconfig knows of none", "[report]") {
    const auto config = knowing_nothing();
    CHECK_NOTHROW(bring_letters(config.get(), GRAFTWRIGHT_INTER_FOLDER));
}

TEST_CASE("fonts: narrow and broad letters differ in a picture, as boxes would not", "[report]") {
    CHECK(drawn("iiii") != drawn("WWWW"));
}
