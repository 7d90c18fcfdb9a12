# Runs after a Catch2 test program is linked: asks it for its cases and writes them down as ctests,
# labelled with the room, the kinds it is tagged with, and "quick" or "slow".
#   cmake -D PROGRAM=… -D ROOM=… -D OUTPUT=… -D CATCH2=its version -P ListCases.cmake
# Catch2's own catch_discover_tests does this too but knows nothing of tags, and a name it failed to
# escape would match no case and pass; here every name is tried, and a case that checks nothing fails.
cmake_minimum_required(VERSION 3.25)
set(kinds slow handbook standard published reference property trend)

# A CMake list comes apart at a semicolon and holds together between square brackets, so names are
# kept in lists with three control characters in their stead.
foreach(code RANGE 1 3)
  string(ASCII ${code} control_${code})
endforeach()
macro(hide text)
  string(REPLACE "[" "${control_1}" ${text} "${${text}}")
  string(REPLACE "]" "${control_2}" ${text} "${${text}}")
  string(REPLACE ";" "${control_3}" ${text} "${${text}}")
endmacro()
macro(show text)
  string(REPLACE "${control_1}" "[" ${text} "${${text}}")
  string(REPLACE "${control_2}" "]" ${text} "${${text}}")
  string(REPLACE "${control_3}" ";" ${text} "${${text}}")
endmacro()

# Their names and nothing else, a line each.
if(CATCH2 VERSION_GREATER_EQUAL 3)
  set(list_names --list-tests --verbosity quiet)
else()
  set(list_names --list-test-names-only)
endif()

function(cases_matching spec result)
  execute_process(COMMAND "${PROGRAM}" "${spec}" ${list_names}
                  OUTPUT_VARIABLE names ERROR_VARIABLE errors RESULT_VARIABLE status)
  # Catch2 2 answers with the number of cases, so only a signal's name or a complaint is a failure.
  if(NOT status MATCHES "^[0-9]+$" OR errors)
    message(FATAL_ERROR "${PROGRAM} cannot list its cases (${status})\n${names}${errors}")
  endif()
  hide(names)
  string(REGEX REPLACE "\n+" ";" names "${names}")
  list(REMOVE_ITEM names "")
  set(${result} "${names}" PARENT_SCOPE)
endfunction()

cases_matching("*" all)
foreach(kind IN LISTS kinds)
  cases_matching("[${kind}]" ${kind}_cases)
endforeach()

set(script "")
foreach(name IN LISTS all)
  set(labels "${ROOM}")
  foreach(kind IN LISTS kinds)
    if(name IN_LIST ${kind}_cases)
      string(APPEND labels ";${kind}")
    endif()
  endforeach()
  set(timeout 1200)
  if(NOT name IN_LIST slow_cases)
    string(APPEND labels ";quick")
    set(timeout 300)
  endif()
  # In a Catch2 pattern a comma means "or", brackets hold a tag, and a backslash escapes.
  set(hidden "${name}")
  show(name)
  string(REGEX REPLACE "([],\\[])" "\\\\\\1" pattern "${name}")
  cases_matching("${pattern}" found)
  if(NOT found STREQUAL hidden)
    message(FATAL_ERROR "Catch2 cannot find this case by its name, choose another: ${name}\n${found}")
  endif()
  # RC_PARAMS: property tests draw the same cases every time, so that a failure can be run again.
  string(APPEND script "add_test([==[${ROOM}: ${name}]==] [==[${PROGRAM}]==] [==[${pattern}]==]"
                       " --warn NoAssertions)\n"
                       "set_tests_properties([==[${ROOM}: ${name}]==] PROPERTIES"
                       " LABELS [==[${labels}]==] TIMEOUT ${timeout}"
                       " ENVIRONMENT RC_PARAMS=seed=20120217)\n")
endforeach()
file(WRITE "${OUTPUT}" "${script}")
