# cmake -D include_dir=... -D declarations_dir=... [-D bodies_dir=... -D units=...] -P split_headers.cmake
# Writes the .hpp files without their .ipp to `declarations_dir`, and the .ipp files without the word inline to `bodies_dir`,
# if one is named. Line numbers stay as they are. A file whose text did not change is not touched, so that little is
# built again. `units` says which bodies the caller compiles; the script ends with an error if it should be others.
# SPDX-License-Identifier: BSD-3-Clause
include(${CMAKE_CURRENT_LIST_DIR}/units_of.cmake)

function(write_if_different file text)
  set(before)
  if(EXISTS ${file})
    file(READ ${file} before)
  endif()
  if(NOT before STREQUAL text)
    file(WRITE ${file} "${text}")
  endif()
endfunction()

# The library's symbols are others than those of the headers used as they are: a part of a program that uses the one and a
# part that uses the other do not meet, and what is handed from one to the other is refused by the linker.
function(put_in_namespace name)
  string(REGEX REPLACE "\nnamespace faultodds" "\nnamespace faultodds::inline compiled" text "${${name}}")
  set(${name} "${text}" PARENT_SCOPE)
endfunction()

# Headers that are gone from the tree must not be found any more.
function(remove_others folder)
  file(GLOB_RECURSE there RELATIVE ${folder} ${folder}/*)
  list(REMOVE_ITEM there ${ARGN})
  foreach(file IN LISTS there)
    file(REMOVE ${folder}/${file})
  endforeach()
endfunction()

file(GLOB_RECURSE headers RELATIVE ${include_dir} ${include_dir}/faultodds/*.hpp)
foreach(header IN LISTS headers)
  file(READ ${include_dir}/${header} text)
  string(REGEX REPLACE "\n#include \"[^\"]*\\.ipp\"" "\n" text "${text}")
  put_in_namespace(text)
  write_if_different(${declarations_dir}/${header} "${text}")
endforeach()
remove_others(${declarations_dir} ${headers})

if(NOT bodies_dir)
  return()
endif()
file(GLOB_RECURSE bodies RELATIVE ${include_dir} ${include_dir}/faultodds/*.ipp)
foreach(body IN LISTS bodies)
  file(READ ${include_dir}/${body} text)
  string(REGEX REPLACE "\ninline " "\n" text "${text}")
  string(REGEX REPLACE "\n(\\[\\[[a-z]+\\]\\] )inline " "\n\\1" text "${text}")
  put_in_namespace(text)
  write_if_different(${bodies_dir}/${body} "${text}")
endforeach()
remove_others(${bodies_dir} ${bodies})

units_of(${include_dir} now)
if(NOT now STREQUAL units)
  message(FATAL_ERROR "The bodies that are compiled by themselves are not those of the last configuration: configure again.")
endif()
