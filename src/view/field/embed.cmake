# The shaders of assets/shaders, built into the program as they are, so that it runs from anywhere.
# Included from src/CMakeLists.txt after the room `view`.
set(embedded "// Made from assets/shaders/*.frag at configure time.\n#include \"view/field/shader_texts.h\"\n\n")
string(APPEND embedded "namespace graftwright {\n\n")
foreach(shader eye_ground eye_surface)
  set(shader_file "${CMAKE_SOURCE_DIR}/assets/shaders/${shader}.frag")
  graftwright_file_as_characters("${shader_file}" bytes)
  string(APPEND embedded "std::string_view ${shader}_text() {\n")
  string(APPEND embedded "    static constexpr char kText[] = {${bytes}};\n")
  string(APPEND embedded "    return {kText, sizeof kText};\n}\n\n")
endforeach()
string(APPEND embedded "}  // namespace graftwright\n")
file(CONFIGURE OUTPUT "${CMAKE_CURRENT_BINARY_DIR}/shader_texts.cpp" CONTENT "${embedded}" @ONLY)
target_sources(graftwright_view PRIVATE "${CMAKE_CURRENT_BINARY_DIR}/shader_texts.cpp")
