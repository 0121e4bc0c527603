# Sets `units` to the .ipp files below `include_dir` that are compiled by themselves: all that no other .ipp includes.
# Those that one does include belong to its unit.
# SPDX-License-Identifier: BSD-3-Clause
function(units_of include_dir units)
  file(GLOB_RECURSE bodies RELATIVE ${include_dir} ${include_dir}/faultodds/*.ipp)
  set(parts)
  foreach(body IN LISTS bodies)
    file(STRINGS ${include_dir}/${body} includes REGEX "^#include \"[^\"]*\\.ipp\"")
    string(REGEX REPLACE "#include \"([^\"]*)\"" "\\1" includes "${includes}")
    list(APPEND parts ${includes})
  endforeach()
  list(REMOVE_ITEM bodies ${parts})
  set(${units} "${bodies}" PARENT_SCOPE)
endfunction()
