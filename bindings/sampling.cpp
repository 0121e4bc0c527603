// Estimates by sampling.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/sampling.hpp"

#include "generated/records.hpp"
#include "planning.hpp"

namespace faultodds::python {

namespace {

py::object sampled(const FaultModel& model, py::handle findings, const py::dict& given) {
  const Names in(model);
  const auto found = taken<std::vector<Finding>>(in, findings, "findings");
  const auto options = options_from<SamplingOptions>(in, given);
  const SampledPosteriors estimates = unlocked([&] { return sample_posteriors(model, found, options, thread_stop()); });
  const py::object kind = record_type("StateEstimate");
  py::list records;
  for (VariableIndex i; i < estimates.of_variable.size(); ++i) {
    for (std::size_t state = 0; state < estimates.of_variable[i].size(); ++state) {
      const Estimate& estimate = estimates.of_variable[i][state];
      records.append(kind(py::arg("variable") = variable_name(in, i), py::arg("label") = variable_label(in, i),
                          py::arg("state") = state_name(in, i, state),
                          py::arg("state_label") = state_label(in, i, state), py::arg("estimate") = estimate.value,
                          py::arg("standard_error") = estimate.standard_error));
    }
  }
  return record_type("SampledPosteriors")(py::arg("estimates") = as_records(records),
                                          py::arg("log_evidence") = to_python(in, estimates.log_evidence),
                                          py::arg("effective_samples") = estimates.effective_samples);
}

}  // namespace

void bind_sampling(py::module_& module) { module.def("_sample_posteriors", &sampled); }

}  // namespace faultodds::python
