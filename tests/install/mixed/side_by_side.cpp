// The part that links the library. Ends with 0 if both parts find the same.
// SPDX-License-Identifier: BSD-3-Clause
#include <faultodds/inference/case.hpp>
#include <faultodds/io/model_file.hpp>

double log_evidence_by_headers(const char* model);

int main(int, char** arguments) {
  faultodds::Case vehicle(faultodds::Solver(faultodds::read_model(arguments[1])));
  vehicle.add_finding("code_p0171", "present");
  return vehicle.log_evidence() == log_evidence_by_headers(arguments[1]) ? 0 : 1;
}
