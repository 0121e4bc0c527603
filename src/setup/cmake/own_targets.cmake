# What every target of our own is compiled with, and nobody who links faultodds::faultodds inherits.
# SPDX-License-Identifier: BSD-3-Clause
add_library(faultodds_own INTERFACE)
target_compile_options(
  faultodds_own INTERFACE $<$<CXX_COMPILER_ID:GNU,Clang,AppleClang>:-Wall;-Wextra;-Wpedantic;-Wconversion;-Wshadow>
                          $<$<CXX_COMPILER_ID:MSVC>:/W4;/permissive->)
# g++ 12 raises false alarms of this kind inside std::string (GCC bug 105651, mended in 13).
target_compile_options(
  faultodds_own
  INTERFACE $<$<AND:$<CXX_COMPILER_ID:GNU>,$<VERSION_LESS:$<CXX_COMPILER_VERSION>,13>>:-Wno-restrict>)
if(FAULTODDS_WARNINGS_AS_ERRORS)
  target_compile_options(faultodds_own INTERFACE $<IF:$<CXX_COMPILER_ID:MSVC>,/WX,-Werror>)
endif()
if(FAULTODDS_SANITIZE)
  target_compile_options(faultodds_own INTERFACE -fsanitize=${FAULTODDS_SANITIZE} -fno-omit-frame-pointer
                                                 -fno-sanitize-recover=all)
  target_link_options(faultodds_own INTERFACE -fsanitize=${FAULTODDS_SANITIZE})
endif()
