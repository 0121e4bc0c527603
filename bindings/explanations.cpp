// The most probable sets of faults.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/explanations.hpp"

#include "generated/records.hpp"

namespace faultodds::python {

namespace {

py::object explanation_records(const FaultModel& model, const Explanations& explanations) {
  const Names in(model);
  const py::object kind = record_type("Explanation");
  py::list records;
  for (const Explanation& explanation : explanations.best) {
    py::dict states;
    for (std::size_t i = 0; i < explanations.variables.size(); ++i) {
      const Variable& variable = model.variable(explanations.variables[i]);
      states[py::str(variable.name)] = variable.states.at(explanation.states[i]).name;
    }
    records.append(kind(py::arg("faults") = to_python(in, faults_of(model, explanations.variables, explanation)),
                        py::arg("states") = states, py::arg("probability") = explanation.probability));
  }
  return as_records(records, "Explanations");
}

}  // namespace

void bind_explanations(py::module_& module) {
  module.def("_explain", [](HeldCase& held, py::handle variables, py::handle count, const py::dict& given) {
    const FaultModel& model = held.current.model();
    const auto chosen =
        variables.is_none() ? std::vector<VariableIndex>() : variables_of(model, variables, "variables");
    const std::size_t wanted = count_of(count, "count");
    const auto options = options_from<ExplainOptions>(Names(model), given);
    const auto found = locked(held, [&](const Case& current) { return explain(current, chosen, wanted, options); });
    return explanation_records(model, found);
  });
  module.def("_most_probable_explanations", [](HeldCase& held, py::handle count) {
    const std::size_t wanted = count_of(count, "count");
    const auto found = locked(held, [&](const Case& current) { return most_probable_explanations(current, wanted); });
    return explanation_records(held.current.model(), found);
  });
}

}  // namespace faultodds::python
