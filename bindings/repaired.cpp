// The case after a repair.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/decision/planning/repaired.hpp"

#include "generated/records.hpp"
#include "planning.hpp"

namespace faultodds::python {

namespace {

Repaired repaired_from(py::handle record) {
  auto& held = record.attr("current").cast<HeldCase&>();
  const FaultModel& model = held.current.model();
  Repaired before{.current = locked(held, [](const Case& current) { return current; }),
                  .check = 0,
                  .complaint = {},
                  .past = {},
                  .repairs = {}};
  const Names in(model);
  read_variable(in, record.attr("check"), "check", before.check);
  for (const auto& [name, states] : py::dict(record.attr("complaint"))) {
    Gate gate{.variable = model.index_of(name_of(name, "complaint")), .states = {}};
    read_state(in, gate.variable, states, "complaint", gate.states);
    before.complaint.push_back(gate);
  }
  before.past = variables_of(model, record.attr("past"), "past");
  read_name(in, Kind::model_repair, record.attr("repairs"), "repairs", before.repairs);
  return before;
}

py::object repaired_record(Repaired after) {
  const auto held = std::make_shared<HeldCase>(std::move(after.current));
  const FaultModel& model = held->current.model();
  const Names in(model);
  return record_type("Repaired")(py::arg("current") = held, py::arg("check") = variable_name(in, after.check),
                                 py::arg("complaint") = to_python(in, after.complaint),
                                 py::arg("past") = variable_name(in, after.past),
                                 py::arg("repairs") = name_at(in, Kind::model_repair, after.repairs));
}

py::object after_one(py::handle before, py::handle repair) {
  if (py::isinstance(before, record_type("Repaired"))) {
    const Repaired earlier = repaired_from(before);
    const std::size_t index = Names(earlier.current.model()).position(Kind::model_repair, repair, "repair");
    std::optional<Repaired> after;
    {
      const py::gil_scoped_release unlocked;
      after = after_repair(earlier, index, thread_stop());
    }
    return repaired_record(*std::move(after));
  }
  auto& held = before.cast<HeldCase&>();
  const std::size_t index = Names(held.current.model()).position(Kind::model_repair, repair, "repair");
  return repaired_record(
      locked(held, [&](const Case& current) { return after_repair(current, index, current.stop()); }));
}

}  // namespace

void bind_repaired(py::module_& module) { module.def("_after_repair", &after_one); }

}  // namespace faultodds::python
