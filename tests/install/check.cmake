# Installs the build tree, builds the projects of another house against it, runs them on a model file:
#   cmake -D build_dir=... -D work_dir=... -D source_dir=... -D compiler=... -D generator=... -D precompiled=ON|OFF
#         -P check.cmake
# SPDX-License-Identifier: BSD-3-Clause
set(prefix ${work_dir}/prefix)
set(model ${prefix}/share/faultodds/models/low-power-petrol.json)
file(REMOVE_RECURSE ${work_dir})

function(run)
  execute_process(COMMAND ${ARGN} COMMAND_ERROR_IS_FATAL ANY OUTPUT_QUIET)
endfunction()

# Configures the project in `folder` against what was installed, and builds it in `binary_dir`.
function(build folder binary_dir)
  run(${CMAKE_COMMAND} -S ${folder} -B ${binary_dir} -G ${generator} -D CMAKE_PREFIX_PATH=${prefix}
      -D CMAKE_CXX_COMPILER=${compiler} -D CMAKE_BUILD_TYPE=Debug -D CMAKE_CXX_FLAGS=-Werror)
  run(${CMAKE_COMMAND} --build ${binary_dir} --config Debug)
endfunction()

# Sets `output` to what the project in `folder` prints for the petrol model.
function(build_and_rank folder output)
  set(binary_dir ${work_dir}/${output})
  build(${folder} ${binary_dir})
  find_program(bench_${output} bench PATHS ${binary_dir} ${binary_dir}/Debug NO_DEFAULT_PATH REQUIRED)
  execute_process(
    COMMAND ${bench_${output}} ${model}
    OUTPUT_VARIABLE text COMMAND_ERROR_IS_FATAL ANY)
  if(NOT text MATCHES "^[a-z_0-9]+: [0-9.e-]+ bits, [0-9.]+\n")
    message(FATAL_ERROR "${folder}: no ranking was printed, but:\n${text}")
  endif()
  set(${output} "${text}" PARENT_SCOPE)
endfunction()

# Takes a vehicle from complaint to end with the service of another house, and looks at what it said, saved and wrote.
function(serve_a_job)
  find_program(service service PATHS ${work_dir}/library ${work_dir}/library/Debug NO_DEFAULT_PATH REQUIRED)
  execute_process(
    COMMAND ${service} ${prefix}/share/faultodds/models/tutorial.json lamp.job.json
    INPUT_FILE ${source_dir}/service.txt WORKING_DIRECTORY ${work_dir}
    OUTPUT_VARIABLE said COMMAND_ERROR_IS_FATAL ANY)
  foreach(wanted "CAUTION: " "Refused: no variable is named \"nonsense\"" "in all 5.60 EUR" "done; cured, says the check")
    string(FIND "${said}" "${wanted}" place)
    if(place EQUAL -1)
      message(FATAL_ERROR "The service did not say \"${wanted}\", but:\n${said}")
    endif()
  endforeach()
  file(READ ${work_dir}/lamp.job.json job)
  string(JSON last GET "${job}" entries 5 confirmed 0 state)
  file(READ ${work_dir}/lamp.md report)
  if(NOT last STREQUAL "corroded" OR NOT report MATCHES "clean the switch contacts")
    message(FATAL_ERROR "The service saved and wrote:\n${job}\n${report}")
  endif()
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
  # Both ways in one program: beside each other they do no harm, and what is handed from one to the other does not link.
  set(mixed_dir ${work_dir}/mixed)
  build(${source_dir}/mixed ${mixed_dir})
  find_program(side_by_side side_by_side PATHS ${mixed_dir} ${mixed_dir}/Debug NO_DEFAULT_PATH REQUIRED)
  run(${side_by_side} ${model})
  execute_process(
    COMMAND ${CMAKE_COMMAND} --build ${mixed_dir} --config Debug --target handed_over
    RESULT_VARIABLE failed OUTPUT_VARIABLE said ERROR_VARIABLE said)
  if(NOT failed OR NOT said MATCHES "undefined (reference|symbol)[^\n]*compiled::Case")
    message(FATAL_ERROR "A case of the library was handed to the headers, and the linker did not refuse it:\n${said}")
  endif()
  serve_a_job()
endif()
