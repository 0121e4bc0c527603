// Hands a case of the library to the part that uses the headers as they are, which the linker must refuse.
// SPDX-License-Identifier: BSD-3-Clause
#include <faultodds/inference/case.hpp>
#include <faultodds/io/model_file.hpp>

std::size_t count_findings(const faultodds::Case& vehicle);

int main(int, char** arguments) {
  const faultodds::Case vehicle(faultodds::Solver(faultodds::read_model(arguments[1])));
  return static_cast<int>(count_findings(vehicle));
}
