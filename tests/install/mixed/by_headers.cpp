// The part of the program that uses the headers as they are.
// SPDX-License-Identifier: BSD-3-Clause
#include <faultodds/inference/case.hpp>
#include <faultodds/io/model_file.hpp>

double log_evidence_by_headers(const char* model);
std::size_t count_findings(const faultodds::Case& vehicle);

double log_evidence_by_headers(const char* model) {
  faultodds::Case vehicle(faultodds::Solver(faultodds::read_model(model)));
  vehicle.add_finding("code_p0171", "present");
  return vehicle.log_evidence();
}

std::size_t count_findings(const faultodds::Case& vehicle) { return vehicle.findings().size(); }
