# The schemas that ship in levels/, built into the program as they are: one source of truth for
# editors, teachers and the readers. Included from src/CMakeLists.txt after the room `files`.
set(embedded "// Made from levels/*.schema.json at configure time.\n#include \"files/schema.h\"\n\n")
string(APPEND embedded "namespace graftwright {\n\nstd::string_view schema_text(FileKind kind) {\n")
string(APPEND embedded "    switch (kind) {\n")
foreach(kind scenario attempt ring hand)
  set(schema_file "${CMAKE_SOURCE_DIR}/levels/${kind}.schema.json")
  graftwright_file_as_characters("${schema_file}" bytes)
  string(APPEND embedded "        case FileKind::${kind}: {\n")
  string(APPEND embedded "            static constexpr char kText[] = {${bytes}};\n")
  string(APPEND embedded "            return {kText, sizeof kText};\n        }\n")
endforeach()
string(APPEND embedded "    }\n    return {};\n}\n\n}  // namespace graftwright\n")
file(CONFIGURE OUTPUT "${CMAKE_CURRENT_BINARY_DIR}/schema_texts.cpp" CONTENT "${embedded}" @ONLY)
target_sources(graftwright_files PRIVATE "${CMAKE_CURRENT_BINARY_DIR}/schema_texts.cpp")

# The validator is a large template and no hot path: optimising it fully costs the compiler more
# than it ever gives back, with sanitizers several times more.
set_source_files_properties(
  "${CMAKE_CURRENT_SOURCE_DIR}/files/schema.cpp"
  PROPERTIES COMPILE_OPTIONS "$<IF:$<BOOL:${GRAFTWRIGHT_SANITIZE}>,-O0,-O1>")
