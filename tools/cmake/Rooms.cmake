# A room is one folder of src/: a static library graftwright_<room>, whose public includes are
# written "room/x.h" (a room of wings: "room/wing/x.h"). Data goes one way through the rooms (see
# DEVELOPERS.md): a room names the rooms above it that it stands on, and no others.
add_library(graftwright_flags INTERFACE)
target_include_directories(graftwright_flags INTERFACE "${CMAKE_SOURCE_DIR}/src")
target_compile_options(
  graftwright_flags
  INTERFACE -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion -Wold-style-cast
            -Wnon-virtual-dtor -Woverloaded-virtual -Wcast-align -Wunused -Wdouble-promotion
            -Wformat=2 -Werror
            # GCC 12 reports overlapping copies inside std::string that are not there.
            # A source that is compiled with others is no header.
            $<$<CXX_COMPILER_ID:GNU>:-Wno-restrict;-Wno-subobject-linkage>
            # Same input, same bits: no fused operations behind our back.
            -ffp-contract=off)
if(GRAFTWRIGHT_SANITIZE)
  # The instrumented code makes GCC 12 see uninitialised reads in the standard library's own headers.
  target_compile_options(
    graftwright_flags INTERFACE -fsanitize=address,undefined -fno-sanitize-recover=all
                                -fno-omit-frame-pointer -Wno-maybe-uninitialized)
  target_link_options(graftwright_flags INTERFACE -fsanitize=address,undefined)
endif()

# graftwright_room(name [ROOMS other rooms…] [LIBRARIES public libraries…] [PRIVATE hidden libraries…])
function(graftwright_room name)
  cmake_parse_arguments(ROOM "" "" "ROOMS;LIBRARIES;PRIVATE" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS "${CMAKE_CURRENT_SOURCE_DIR}/${name}/*.cpp"
       "${CMAKE_CURRENT_SOURCE_DIR}/${name}/*/*.cpp")
  list(TRANSFORM ROOM_ROOMS PREPEND graftwright_)
  if(sources)
    add_library(graftwright_${name} STATIC ${sources})
    target_link_libraries(
      graftwright_${name}
      PUBLIC ${ROOM_ROOMS} ${ROOM_LIBRARIES} graftwright_flags
      PRIVATE ${ROOM_PRIVATE})
  else()
    add_library(graftwright_${name} INTERFACE)
    target_link_libraries(graftwright_${name} INTERFACE ${ROOM_ROOMS} ${ROOM_LIBRARIES} graftwright_flags)
  endif()
endfunction()

# graftwright_file_as_characters(file list): the file's bytes as the inside of a C array, for what is built into the
# program as it is; a changed file configures anew.
function(graftwright_file_as_characters file list)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${file}")
  file(READ "${file}" bytes HEX)  # as text it would trip over [ ] and ; of JSON
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," bytes "${bytes}")
  set(${list} "${bytes}" PARENT_SCOPE)
endfunction()

# graftwright_room_tests(room): tests/<room>/*_test.cpp become the program <room>_tests, each test
# case a ctest of its own, labelled with its tags. COMPUTES: they do algebra of their own; all others are compiled in
# less time, since what they try is optimised in its room.
function(graftwright_room_tests name)
  cmake_parse_arguments(TEST "COMPUTES" "" "ROOMS;LIBRARIES" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/tests/${name}/*_test.cpp")
  if(NOT sources)
    return()
  endif()
  list(TRANSFORM TEST_ROOMS PREPEND graftwright_)
  add_executable(${name}_tests ${sources})
  target_link_libraries(${name}_tests PRIVATE graftwright_${name} ${TEST_ROOMS} ${TEST_LIBRARIES}
                                              graftwright_test_main)
  target_compile_definitions(${name}_tests PRIVATE GRAFTWRIGHT_SOURCE_DIR="${CMAKE_SOURCE_DIR}")
  if(NOT TEST_COMPUTES)
    target_compile_options(${name}_tests PRIVATE $<$<CONFIG:Release>:-O1>)
  endif()

  set(cases "${CMAKE_CURRENT_BINARY_DIR}/${name}_cases.cmake")
  add_custom_command(
    TARGET ${name}_tests
    POST_BUILD
    COMMAND "${CMAKE_COMMAND}" -D "PROGRAM=$<TARGET_FILE:${name}_tests>" -D "ROOM=${name}" -D
            "OUTPUT=${cases}" -D "CATCH2=${Catch2_VERSION}" -P "${CMAKE_SOURCE_DIR}/tools/cmake/ListCases.cmake"
    BYPRODUCTS "${cases}"
    VERBATIM)
  # Until it is built, a room's tests are one test that fails.
  set(include_file "${CMAKE_CURRENT_BINARY_DIR}/${name}_include.cmake")
  file(WRITE "${include_file}" "if(EXISTS \"${cases}\")\n  include(\"${cases}\")\nelse()\n"
                               "  add_test(${name}_tests_not_built ${name}_tests_not_built)\nendif()\n")
  set_property(DIRECTORY APPEND PROPERTY TEST_INCLUDE_FILES "${include_file}")
endfunction()
