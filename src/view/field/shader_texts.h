// The fragment shaders of assets/shaders, as built into the program (embed.cmake).
#pragma once

#include <string_view>

namespace graftwright {

[[nodiscard]] std::string_view eye_ground_text();
[[nodiscard]] std::string_view eye_surface_text();

}  // namespace graftwright
