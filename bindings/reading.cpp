// Findings from several numbers on a gauge.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/reading.hpp"

#include "generated/records.hpp"

namespace faultodds::python {

namespace {

/// A record faultodds.Measured, or its text.
Measured measured_of(py::handle value) {
  if (!py::isinstance(value, record_type("Measured"))) return parse_reading(name_of(value, "readings"));
  return taken<Measured>(Names(), value, "readings");
}

py::object from_readings(const FaultModel& model, py::handle variable, py::handle readings, py::handle errors) {
  const std::size_t index = model.index_of(name_of(variable, "variable"));
  std::vector<Measured> measured;
  if (py::isinstance<py::str>(readings)) {
    measured = parse_readings(name_of(readings, "readings"));
  } else {
    for (const py::handle one : readings) measured.push_back(measured_of(one));
  }
  const auto shared = taken<RepeatedErrors>(Names(model), errors, "errors");
  return finding_record(model, finding_from_readings(model, index, measured, shared));
}

}  // namespace

void bind_reading(py::module_& module) { module.def("_finding_from_readings", &from_readings); }

}  // namespace faultodds::python
