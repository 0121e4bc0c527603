// FaultModel: what work costs, how the vehicle must stand for it, repairs, and how a case ends.
// SPDX-License-Identifier: BSD-3-Clause
#include "generated/records.hpp"

namespace faultodds::python {

namespace {

/// A list of the model's parts as records.
template <auto Part>
py::object part_table(const FaultModel& model) {
  return table_of(Names(model), model.parts().*Part);
}

template <auto Part>
py::object part(const FaultModel& model) {
  return to_python(Names(model), model.parts().*Part);
}

}  // namespace

void add_work(py::class_<FaultModel>& bound) {
  bound.def("tools", &part_table<&ModelParts::tools>, "The tools the model knows, as records of kind Term.")
      .def("skills", &part_table<&ModelParts::skills>,
           "The skill levels the model knows, in rising order, as records of kind Term.")
      .def("cautions", &part_table<&ModelParts::cautions>, "The cautions the model knows, as records of kind Term.")
      .def("conditions", &part_table<&ModelParts::conditions>,
           "How the vehicle must stand for some work, as records of kind Condition.")
      .def("access", &part_table<&ModelParts::access>, "The opening work the model knows, as records of kind Access.")
      .def("repairs", &part_table<&ModelParts::repairs>, "The repairs the model knows, as records of kind Repair.")
      .def("hand_overs", &part_table<&ModelParts::hand_overs>,
           "Specialists to whom the vehicle can be given, as records of kind HandOver.")
      .def("verification", &part<&ModelParts::verification>,
           "The check after a repair that has none of its own, as a RepairCheck; None if there is none.")
      .def("comeback", &part<&ModelParts::comeback>,
           "What it costs when a vehicle leaves as cured and is not, as a Comeback; None if the model does not say.")
      .def("live_with", &part<&ModelParts::live_with>,
           "What it costs to leave the complaint as it is, as a LiveWith; None if that is not offered.");
}

}  // namespace faultodds::python
