// FaultModel: what work costs, how the vehicle must stand for it, repairs, and how a case ends.
// SPDX-License-Identifier: BSD-3-Clause
#include <optional>

#include "bindings.hpp"

namespace faultodds::python {

namespace {

/// The label if there is one, otherwise the name.
template <class Named>
const std::string& shown_name(const Named& named) {
  return named.label.empty() ? named.name : named.label;
}

py::tuple states_of(const Variable& variable, const std::vector<std::size_t>& states) {
  std::vector<std::string> names;
  for (const std::size_t state : states) names.push_back(variable.states.at(state).name);
  return as_tuple(names);
}

py::tuple context_costs(const FaultModel& model, const Work& work) {
  const py::object kind = record_type("ContextCost");
  py::list rows;
  for (const ContextCost& row : work.by_context) {
    rows.append(
        kind(gates_as_dict(model, row.when), or_none(row.minutes), or_none(row.money), or_none(row.wait_minutes)));
  }
  return py::tuple(rows);
}

py::object verification_record(const FaultModel& model, const std::optional<RepairCheck>& check) {
  if (!check) return py::none();
  return record_type("RepairCheck")(check->label, check->procedure, work_record(model, check->work), check->false_cured,
                                    check->false_still_there, check->source);
}

py::object condition_records(const FaultModel& model) {
  const py::object kind = record_type("Condition");
  py::list records;
  for (const Condition& one : model.parts().conditions) {
    records.append(
        kind(one.name, shown_name(one), one.description, one.group, one.at_start, work_record(model, one.work)));
  }
  return as_records(records);
}

py::object access_records(const FaultModel& model) {
  const py::object kind = record_type("Access");
  py::list records;
  for (const Access& one : model.parts().access) {
    records.append(kind(one.name, shown_name(one), one.description, work_record(model, one.work)));
  }
  return as_records(records);
}

py::tuple partial_records(const Variable& component, const Repair& repair) {
  const py::object kind = record_type("Easing");
  py::list records;
  for (const Easing& easing : repair.partial) {
    records.append(
        kind(component.states.at(easing.from).name, component.states.at(easing.to).name, easing.probability));
  }
  return py::tuple(records);
}

py::object repair_records(const FaultModel& model) {
  const py::object kind = record_type("Repair");
  py::list records;
  for (const Repair& repair : model.parts().repairs) {
    const Variable& component = model.variable(repair.component);
    records.append(kind(repair.name, shown_name(repair), repair.procedure, component.name,
                        states_of(component, repair.mends), repair.success, work_record(model, repair.work),
                        repair.source, partial_records(component, repair),
                        verification_record(model, repair.verification)));
  }
  return as_records(records);
}

py::object repair_elsewhere_record(const std::optional<RepairElsewhere>& repair) {
  if (!repair) return py::none();
  return record_type("RepairElsewhere")(repair->times_ours, repair->other);
}

py::object hand_over_records(const FaultModel& model) {
  const py::object kind = record_type("HandOver");
  py::list records;
  for (const HandOver& one : model.parts().hand_overs) {
    records.append(kind(one.name, shown_name(one), one.description, or_none(one.money), or_none(one.wait_minutes),
                        one.tells, one.source, repair_elsewhere_record(one.repair)));
  }
  return as_records(records);
}

py::object comeback_record(const FaultModel& model) {
  const std::optional<Comeback>& comeback = model.parts().comeback;
  if (!comeback) return py::none();
  return record_type("Comeback")(or_none(comeback->money), or_none(comeback->minutes), comeback->source);
}

py::object live_with_record(const FaultModel& model) {
  const std::optional<LiveWith>& live_with = model.parts().live_with;
  if (!live_with) return py::none();
  return record_type("LiveWith")(live_with->money, live_with->source);
}

}  // namespace

py::dict gates_as_dict(const FaultModel& model, const std::vector<Gate>& gates) {
  py::dict states;
  for (const Gate& gate : gates) {
    const Variable& variable = model.variable(gate.variable);
    states[py::str(variable.name)] = states_of(variable, gate.states);
  }
  return states;
}

py::object work_record(const FaultModel& model, const Work& work) {
  return record_type("Work")(or_none(work.minutes), or_none(work.money), as_tuple(work.access), as_tuple(work.tools),
                             work.skill, as_tuple(work.cautions), work.source, or_none(work.wait_minutes),
                             as_tuple(work.conditions), context_costs(model, work));
}

void add_work(py::class_<FaultModel>& bound) {
  bound.def("conditions", &condition_records, "How the vehicle must stand for some work, as records of kind Condition.")
      .def("access", &access_records, "The opening work the model knows, as records of kind Access.")
      .def("repairs", &repair_records, "The repairs the model knows, as records of kind Repair.")
      .def("hand_overs", &hand_over_records,
           "Specialists to whom the vehicle can be given, as records of kind HandOver.")
      .def(
          "verification",
          [](const FaultModel& model) { return verification_record(model, model.parts().verification); },
          "The check after a repair that has none of its own, as a RepairCheck; None if there is none.")
      .def("comeback", &comeback_record,
           "What it costs when a vehicle leaves as cured and is not, as a Comeback; None if the model does not say.")
      .def("live_with", &live_with_record,
           "What it costs to leave the complaint as it is, as a LiveWith; None if that is not offered.");
}

}  // namespace faultodds::python
