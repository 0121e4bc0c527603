// SPDX-License-Identifier: BSD-3-Clause
#include <faultodds/decision/ranking/rank_tests.hpp>
#include <faultodds/io/model_file.hpp>
#include <iostream>

int main(int, char** arguments) {
  const faultodds::Solver solver(faultodds::read_model(arguments[1]));  // share it between threads and cases
  faultodds::Case vehicle(solver);
  vehicle.add_finding("code_p0171", "present");
  for (const faultodds::TestForecast& test : faultodds::rank_tests(vehicle).tests) {
    std::cout << vehicle.model().variable(test.test).name << ": " << test.gain_bits << " bits, " << test.cost << '\n';
  }
}
