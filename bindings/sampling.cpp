// Estimates by sampling.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/sampling.hpp"

#include "planning.hpp"

namespace faultodds::python {

namespace {

py::object sampled(const FaultModel& model, py::handle findings, py::handle samples, py::handle seed) {
  std::vector<Finding> found;
  for (const py::handle record : findings) found.push_back(finding_of(model, record));
  const SamplingOptions options{count_of(samples, "samples"), count_of(seed, "seed")};
  SampledPosteriors estimates;
  {
    const py::gil_scoped_release unlocked;
    estimates = sample_posteriors(model, found, options, thread_stop());
  }
  const py::object kind = record_type("StateEstimate");
  py::list records;
  for (std::size_t i = 0; i < estimates.of_variable.size(); ++i) {
    const Variable& variable = model.variable(i);
    for (std::size_t state = 0; state < variable.states.size(); ++state) {
      const State& about = variable.states[state];
      const Estimate& estimate = estimates.of_variable[i][state];
      records.append(
          kind(variable.name, shown(variable), about.name, shown(about), estimate.value, estimate.standard_error));
    }
  }
  const Estimate& evidence = estimates.log_evidence;
  return record_type("SampledPosteriors")(as_records(records),
                                          record_type("Estimate")(evidence.value, evidence.standard_error),
                                          estimates.effective_samples);
}

}  // namespace

void bind_sampling(py::module_& module) {
  module.def("sample_posteriors", &sampled, py::arg("model"), py::arg("findings") = py::tuple(), py::kw_only(),
             py::arg("samples") = 100'000, py::arg("seed") = 1,
             R"(Posteriors estimated by likelihood weighting, with standard errors: SampledPosteriors. Never exact.

findings: Finding records. For models that no exact method fits into memory; rare findings leave few effective samples and
large errors. The same seed gives the same numbers. Ctrl-C and time_limit stop it. Raises ArgumentError for a Markov network,
for no samples, and where not one sample agrees with the findings.)");
}

}  // namespace faultodds::python
