# What every target of our own is compiled with, and nobody who links faultodds::faultodds inherits.
add_library(faultodds_own INTERFACE)
target_compile_options(
  faultodds_own INTERFACE $<$<CXX_COMPILER_ID:GNU,Clang,AppleClang>:-Wall;-Wextra;-Wpedantic;-Wconversion;-Wshadow>
                          $<$<CXX_COMPILER_ID:MSVC>:/W4;/permissive->)
if(FAULTODDS_WARNINGS_AS_ERRORS)
  target_compile_options(faultodds_own INTERFACE $<IF:$<CXX_COMPILER_ID:MSVC>,/WX,-Werror>)
endif()
if(FAULTODDS_SANITIZE)
  target_compile_options(faultodds_own INTERFACE -fsanitize=${FAULTODDS_SANITIZE} -fno-omit-frame-pointer
                                                 -fno-sanitize-recover=all)
  target_link_options(faultodds_own INTERFACE -fsanitize=${FAULTODDS_SANITIZE})
endif()
