// Posteriors where no junction tree fits into memory.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/conditioning.hpp"

#include "planning.hpp"

namespace faultodds::python {

namespace {

py::object conditioned(const Solver& solver, py::handle findings, py::handle on, py::handle max_cases) {
  const FaultModel& model = solver.model();
  std::vector<Finding> found;
  for (const py::handle record : findings) found.push_back(finding_of(model, record));
  ConditioningOptions options;
  if (!on.is_none()) options.on = variables_of(model, on, "on");
  options.max_cases = count_of(max_cases, "max_cases");
  ConditionedPosteriors made;
  {
    const py::gil_scoped_release unlocked;
    made = posteriors_by_conditioning(solver, found, options, thread_stop());
  }
  return record_type("ConditionedPosteriors")(names_as_tuple(model, made.on), made.cases, made.log_evidence,
                                              posteriors_of_all(model, made.of_variable));
}

}  // namespace

void bind_conditioning(py::module_& module) {
  module.def("posteriors_by_conditioning", &conditioned, py::arg("solver"), py::arg("findings") = py::tuple(),
             py::kw_only(), py::arg("on") = py::none(), py::arg("max_cases") = 1 << 16,
             R"(Exact posteriors from one smaller case after another: ConditionedPosteriors.

For findings with which a case does not fit into the solver's memory: it is worked out under each joint state of a few
variables, weighed by its probability. findings: Finding records. on: the variables to condition on, none of them with a
finding; None: chosen until what is left fits. max_cases: joint states of them. Ctrl-C and time_limit stop it. Raises
ArgumentError, UnknownName, ImpossibleFindings, TooLarge.)");
}

}  // namespace faultodds::python
