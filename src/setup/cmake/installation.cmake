# cmake --install, and find_package(faultodds) for other projects.
# SPDX-License-Identifier: BSD-3-Clause
include(CMakePackageConfigHelpers)

set(FAULTODDS_PACKAGE_DIR ${CMAKE_INSTALL_LIBDIR}/cmake/faultodds)

install(DIRECTORY ${PROJECT_SOURCE_DIR}/include/faultodds DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(
  DIRECTORY ${PROJECT_SOURCE_DIR}/models/
  DESTINATION ${CMAKE_INSTALL_DATADIR}/faultodds/models
  FILES_MATCHING
  PATTERN "*.json")

install(FILES ${PROJECT_SOURCE_DIR}/src/setup/LICENSE DESTINATION ${CMAKE_INSTALL_DATADIR}/licenses/faultodds)

foreach(part IN ITEMS faultodds faultodds_io faultodds_precompiled)
  if(TARGET ${part})
    install(TARGETS ${part} EXPORT ${part}-targets)
    install(
      EXPORT ${part}-targets
      NAMESPACE faultodds::
      DESTINATION ${FAULTODDS_PACKAGE_DIR})
  endif()
endforeach()
if(TARGET faultodds_program)
  install(TARGETS faultodds_program)
endif()

set(versioning SameMinorVersion)
if(NOT TARGET faultodds_precompiled)
  list(APPEND versioning ARCH_INDEPENDENT)
endif()
write_basic_package_version_file(${PROJECT_BINARY_DIR}/faultodds-config-version.cmake COMPATIBILITY ${versioning})
configure_package_config_file(
  ${CMAKE_CURRENT_LIST_DIR}/faultodds-config.cmake.in ${PROJECT_BINARY_DIR}/faultodds-config.cmake
  INSTALL_DESTINATION ${FAULTODDS_PACKAGE_DIR})
install(FILES ${PROJECT_BINARY_DIR}/faultodds-config.cmake ${PROJECT_BINARY_DIR}/faultodds-config-version.cmake
        DESTINATION ${FAULTODDS_PACKAGE_DIR})
