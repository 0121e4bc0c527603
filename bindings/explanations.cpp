// The most probable sets of faults.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/explanations.hpp"

#include "bindings.hpp"

namespace faultodds::python {

namespace {

py::tuple faults_as_tuple(const FaultModel& model, const Explanations& explanations, const Explanation& explanation) {
  const py::object kind = record_type("Fault");
  py::list faults;
  for (const Fault& fault : faults_of(model, explanations.variables, explanation)) {
    const Variable& component = model.variable(fault.component);
    const State& state = component.states.at(fault.state);
    faults.append(kind(component.name, shown(component), state.name, shown(state)));
  }
  return py::tuple(faults);
}

py::object explanation_records(const FaultModel& model, const Explanations& explanations) {
  const py::object kind = record_type("Explanation");
  py::list records;
  for (const Explanation& explanation : explanations.best) {
    py::dict states;
    for (std::size_t i = 0; i < explanations.variables.size(); ++i) {
      const Variable& variable = model.variable(explanations.variables[i]);
      states[py::str(variable.name)] = variable.states.at(explanation.states[i]).name;
    }
    records.append(kind(faults_as_tuple(model, explanations, explanation), states, explanation.probability));
  }
  return as_records(records, "Explanations");
}

py::object explained(HeldCase& held, py::handle variables, py::handle count, py::handle max_propagations) {
  const FaultModel& model = held.current.model();
  const auto chosen = variables.is_none() ? std::vector<std::size_t>() : variables_of(model, variables, "variables");
  const std::size_t wanted = count_of(count, "count");
  ExplainOptions options;
  if (!max_propagations.is_none()) options.max_propagations = count_of(max_propagations, "max_propagations");
  const auto found = locked(held, [&](const Case& current) { return explain(current, chosen, wanted, options); });
  return explanation_records(model, found);
}

}  // namespace

void bind_explanations(py::module_& module) {
  module.def("explain", &explained, py::arg("case"), py::arg("variables") = py::none(), py::arg("count") = 5,
             py::kw_only(), py::arg("max_propagations") = py::none(),
             R"(The `count` most probable joint states of `variables` given the findings, everything else summed out.

variables: names; by default all components or, in a model without, all variables without a hard finding. Exact.
max_propagations: what may be spent; beyond it Stopped is raised, saying how far it got. Returns Explanations, most
probable first; fewer where fewer are possible. Raises UnknownName, ArgumentError, Stopped, TooLarge.)");
  module.def(
      "most_probable_explanations",
      [](HeldCase& held, py::handle count) {
        const std::size_t wanted = count_of(count, "count");
        const auto found =
            locked(held, [&](const Case& current) { return most_probable_explanations(current, wanted); });
        return explanation_records(held.current.model(), found);
      },
      py::arg("case"), py::arg("count") = 1,
      R"(The `count` most probable joint states of everything that matters at once: findings, components, context and what
they depend on; in a model without components, all variables.

Returns Explanations, most probable first. Raises TooLarge if the tables would exceed the memory limit.)");
}

}  // namespace faultodds::python
