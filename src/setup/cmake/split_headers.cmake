# cmake -D include_dir=... -D bodies_dir=... -D declarations_dir=... -P split_headers.cmake
# Line numbers stay as they are. A file whose text did not change is not touched, so that little is built again.
# The body that src/kernels takes the place of is left out.
# SPDX-License-Identifier: BSD-3-Clause
function(write_if_different file text)
  set(before)
  if(EXISTS ${file})
    file(READ ${file} before)
  endif()
  if(NOT before STREQUAL text)
    file(WRITE ${file} "${text}")
  endif()
endfunction()

file(GLOB_RECURSE headers RELATIVE ${include_dir} ${include_dir}/faultodds/*.hpp ${include_dir}/faultodds/*.ipp)
foreach(header IN LISTS headers)
  file(READ ${include_dir}/${header} text)
  if(header MATCHES "\\.ipp$")
    if(header STREQUAL "faultodds/inference/junction_tree/kernels.ipp")
      set(text "#pragma once\n")
    endif()
    string(REGEX REPLACE "\ninline " "\n" text "${text}")
    string(REGEX REPLACE "\n\\[\\[nodiscard\\]\\] inline " "\n[[nodiscard]] " text "${text}")
    write_if_different(${bodies_dir}/${header} "${text}")
  else()
    write_if_different(${bodies_dir}/${header} "${text}")
    string(REGEX REPLACE "\n#include \"[^\"]*\\.ipp\"" "\n" text "${text}")
    write_if_different(${declarations_dir}/${header} "${text}")
  endif()
endforeach()

# Headers that are gone from the tree must not be found any more.
foreach(folder IN ITEMS ${bodies_dir} ${declarations_dir})
  file(GLOB_RECURSE there RELATIVE ${folder} ${folder}/*)
  list(REMOVE_ITEM there ${headers})
  foreach(header IN LISTS there)
    file(REMOVE ${folder}/${header})
  endforeach()
endforeach()
