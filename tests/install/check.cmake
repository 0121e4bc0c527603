# Installs the build tree, builds the projects of another house against it, runs them on a model file:
#   cmake -D build_dir=... -D work_dir=... -D source_dir=... -D compiler=... -D generator=... -D precompiled=ON|OFF
#         -P check.cmake
# SPDX-License-Identifier: BSD-3-Clause
set(prefix ${work_dir}/prefix)
file(REMOVE_RECURSE ${work_dir})

function(run)
  execute_process(COMMAND ${ARGN} COMMAND_ERROR_IS_FATAL ANY OUTPUT_QUIET)
endfunction()

# Sets `output` to what the project in `folder` prints for the petrol model.
function(build_and_rank folder output)
  set(binary_dir ${work_dir}/${output})
  run(${CMAKE_COMMAND} -S ${folder} -B ${binary_dir} -G ${generator} -D CMAKE_PREFIX_PATH=${prefix}
      -D CMAKE_CXX_COMPILER=${compiler} -D CMAKE_BUILD_TYPE=Debug -D CMAKE_CXX_FLAGS=-Werror)
  run(${CMAKE_COMMAND} --build ${binary_dir} --config Debug)
  find_program(bench_${output} bench PATHS ${binary_dir} ${binary_dir}/Debug NO_DEFAULT_PATH REQUIRED)
  execute_process(
    COMMAND ${bench_${output}} ${prefix}/share/faultodds/models/low-power-petrol.json
    OUTPUT_VARIABLE text COMMAND_ERROR_IS_FATAL ANY)
  if(NOT text MATCHES "^[a-z_0-9]+: [0-9.e-]+ bits, [0-9.]+\n")
    message(FATAL_ERROR "${folder}: no ranking was printed, but:\n${text}")
  endif()
  set(${output} "${text}" PARENT_SCOPE)
endfunction()

run(${CMAKE_COMMAND} --install ${build_dir} --prefix ${prefix})
if(NOT EXISTS ${prefix}/share/licenses/faultodds/LICENSE)
  message(FATAL_ERROR "The licence was not installed")
endif()
build_and_rank(${source_dir} headers)
message("${headers}")
if(precompiled)
  build_and_rank(${source_dir}/precompiled library)
  if(NOT headers STREQUAL library)
    message(FATAL_ERROR "The precompiled library ranks otherwise than the headers:\n${library}")
  endif()
endif()
