// The case after a repair.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/planning/repaired.hpp"

#include "planning.hpp"

namespace faultodds::python {

namespace {

Repaired repaired_from(py::handle record) {
  auto& held = record.attr("current").cast<HeldCase&>();
  const FaultModel& model = held.current.model();
  Repaired before{locked(held, [](const Case& current) { return current; }), 0, {}, {}, {}};
  before.check = model.index_of(name_of(record.attr("check"), "check"));
  for (const auto& [name, states] : py::dict(record.attr("complaint"))) {
    Gate gate{model.index_of(name_of(name, "complaint")), {}};
    for (const std::string& state : names_of(states, "complaint")) {
      gate.states.push_back(model.state_of(gate.variable, state));
    }
    before.complaint.push_back(gate);
  }
  before.past = variables_of(model, record.attr("past"), "past");
  for (const std::string& name : names_of(record.attr("repairs"), "repairs")) {
    before.repairs.push_back(repair_of(model, py::str(name), "repairs"));
  }
  return before;
}

py::object repaired_record(Repaired after) {
  const auto held = std::make_shared<HeldCase>(std::move(after.current));
  const FaultModel& model = held->current.model();
  py::dict complaint;
  for (const Gate& gate : after.complaint) {
    std::vector<std::string> states;
    for (const std::size_t state : gate.states) states.push_back(model.variable(gate.variable).states.at(state).name);
    complaint[py::str(model.variable(gate.variable).name)] = as_tuple(states);
  }
  return record_type("Repaired")(held, model.variable(after.check).name, complaint, names_as_tuple(model, after.past),
                                 names_at(model.parts().repairs, after.repairs));
}

py::object after_one(py::handle before, py::handle repair) {
  if (py::isinstance(before, record_type("Repaired"))) {
    const Repaired earlier = repaired_from(before);
    const std::size_t index = repair_of(earlier.current.model(), repair, "repair");
    std::optional<Repaired> after;
    {
      const py::gil_scoped_release unlocked;
      after = after_repair(earlier, index, thread_stop());
    }
    return repaired_record(*std::move(after));
  }
  auto& held = before.cast<HeldCase&>();
  const std::size_t index = repair_of(held.current.model(), repair, "repair");
  return repaired_record(
      locked(held, [&](const Case& current) { return after_repair(current, index, current.stop()); }));
}

}  // namespace

void bind_repaired(py::module_& module) {
  module.def("after_repair", &after_one, py::arg("before"), py::arg("repair"),
             R"(The case after the repair of this name was carried out: a Repaired, whose case is a new one.

before: a Case, or the Repaired of an earlier repair with what was found since in its case. Enter what the check says
as a finding of `check` in the case of the result. The repaired component keeps its name for its state now; what was
found before stays with its state before. Raises UnknownName if the model has no such repair; TooLarge.)");
}

}  // namespace faultodds::python
