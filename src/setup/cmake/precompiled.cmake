# The precompiled library: the same headers in two sets made from the tree at build time.
#   declarations/  .hpp files without their .ipp, for those who link faultodds::precompiled
#   bodies/        .ipp files without the word inline, compiled once, here, each in a unit of its own
# So the public headers need no macro, and nothing is written twice. Both have their names in an inline namespace, so that
# they share no symbol with a part of the same program that uses the headers as they are.
# SPDX-License-Identifier: BSD-3-Clause
include(units_of)
set(declarations_dir ${PROJECT_BINARY_DIR}/precompiled/declarations)
set(bodies_dir ${PROJECT_BINARY_DIR}/precompiled/bodies)
set(units_dir ${PROJECT_BINARY_DIR}/precompiled/units)
set(split_script ${CMAKE_CURRENT_LIST_DIR}/split_headers.cmake)

# Every file made is named to the build system: only so does it build again whatever includes a changed one.
file(GLOB_RECURSE public_headers CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/include/faultodds/*.hpp
     ${PROJECT_SOURCE_DIR}/include/faultodds/*.ipp)
set(split_files)
foreach(header IN LISTS public_headers)
  file(RELATIVE_PATH name ${PROJECT_SOURCE_DIR}/include ${header})
  if(name MATCHES "\\.hpp$")
    list(APPEND split_files ${declarations_dir}/${name})
  else()
    list(APPEND split_files ${bodies_dir}/${name})
  endif()
endforeach()

units_of(${PROJECT_SOURCE_DIR}/include unit_bodies)
set(unit_sources)
foreach(body IN LISTS unit_bodies)
  string(REGEX REPLACE "^faultodds/(.*)\\.ipp$" "${units_dir}/\\1.cpp" unit ${body})
  file(CONFIGURE OUTPUT ${unit} CONTENT "#include \"@body@\"\n" @ONLY)
  list(APPEND unit_sources ${unit})
endforeach()

set(stamp ${PROJECT_BINARY_DIR}/precompiled/stamp)
add_custom_command(
  OUTPUT ${stamp}
  BYPRODUCTS ${split_files}
  COMMAND ${CMAKE_COMMAND} -D include_dir=${PROJECT_SOURCE_DIR}/include -D bodies_dir=${bodies_dir} -D
          declarations_dir=${declarations_dir} -D "units=${unit_bodies}" -P ${split_script}
  COMMAND ${CMAKE_COMMAND} -E touch ${stamp}
  DEPENDS ${public_headers} ${split_script} ${CMAKE_CURRENT_LIST_DIR}/units_of.cmake
  COMMENT "Splitting the headers into declarations and bodies"
  VERBATIM)
add_custom_target(faultodds_split DEPENDS ${stamp})

add_library(faultodds_precompiled ${unit_sources})
add_library(faultodds::precompiled ALIAS faultodds_precompiled)
add_dependencies(faultodds_precompiled faultodds_split)
set_target_properties(faultodds_precompiled PROPERTIES EXPORT_NAME precompiled POSITION_INDEPENDENT_CODE ON
                                                       VERSION ${PROJECT_VERSION})
target_compile_features(faultodds_precompiled PUBLIC cxx_std_20)
target_include_directories(
  faultodds_precompiled
  PRIVATE ${bodies_dir}
  PUBLIC $<BUILD_INTERFACE:${declarations_dir}> $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}/faultodds-precompiled>)
target_link_libraries(
  faultodds_precompiled
  PUBLIC Threads::Threads nlohmann_json::nlohmann_json
  PRIVATE Eigen3::Eigen Boost::headers pugixml::pugixml ZLIB::ZLIB $<BUILD_INTERFACE:faultodds_own>)
if(FAULTODDS_INSTALL)
  install(DIRECTORY ${declarations_dir}/faultodds DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/faultodds-precompiled)
endif()
