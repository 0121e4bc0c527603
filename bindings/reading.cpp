// Readings: units, and findings from numbers on a gauge.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/reading.hpp"

#include "bindings.hpp"
#include "faultodds/model/unit.hpp"

namespace faultodds::python {

namespace {

/// A record faultodds.Measured, or its text.
Measured measured_of(py::handle value) {
  if (!py::isinstance(value, record_type("Measured"))) return parse_reading(name_of(value, "readings"));
  return {number_of(value.attr("value"), "value"), name_of(value.attr("unit"), "unit")};
}

RepeatedErrors errors_of(py::handle errors) {
  const std::string name = name_of(errors, "errors");
  if (name == "as_in_model") return RepeatedErrors::as_in_model;
  if (name == "independent") return RepeatedErrors::independent;
  if (name == "same_instrument") return RepeatedErrors::same_instrument;
  throw ArgumentError("errors", "got \"" + name + '"', "give as_in_model, independent or same_instrument");
}

py::object from_reading(const FaultModel& model, py::handle variable, py::handle value, py::handle unit) {
  const std::size_t index = model.index_of(name_of(variable, "variable"));
  return finding_record(model, finding_from_reading(model, index, number_of(value, "value"), name_of(unit, "unit")));
}

py::object from_readings(const FaultModel& model, py::handle variable, py::handle readings, py::handle errors) {
  const std::size_t index = model.index_of(name_of(variable, "variable"));
  std::vector<Measured> measured;
  if (py::isinstance<py::str>(readings)) {
    measured = parse_readings(name_of(readings, "readings"));
  } else {
    for (const py::handle one : readings) measured.push_back(measured_of(one));
  }
  return finding_record(model, finding_from_readings(model, index, measured, errors_of(errors)));
}

py::object unit_records() {
  const py::object kind = record_type("Unit");
  py::list records;
  for (const Unit& unit : units()) {
    records.append(
        kind(std::string(unit.symbol), std::string(unit.quantity), unit.numerator / unit.denominator, unit.zero));
  }
  return as_records(records);
}

}  // namespace

void bind_reading(py::module_& module) {
  module.def("finding_from_reading", &from_reading, py::arg("model"), py::arg("variable"), py::arg("value"),
             py::arg("unit"), R"(The finding that a number on a gauge makes, for Case.add or Case.change.

value: in `unit`, any unit of the quantity ("psi" if the model says kPa); "" for a bare number. A hard finding where
the number is far from the limits of the model, or the model gives no gauge error; near a limit, and where the outcomes
have spreads, P(reading | outcome) for each outcome.

Raises UnknownName (variable or unit); ArgumentError if the variable has no reading, the unit is one of another
quantity, the number is impossible (with the range), or no outcome covers it.)");
  module.def("finding_from_readings", &from_readings, py::arg("model"), py::arg("variable"), py::arg("readings"),
             py::kw_only(), py::arg("errors") = "as_in_model",
             R"(The finding that several readings of one test make together.

readings: Measured records or texts such as "43 psi", or one text "43 psi; 44 psi". errors: "independent" (an error each:
averaged, the error shrinks), "same_instrument" (the same error: further readings must agree but add nothing), or
"as_in_model". Raises as finding_from_reading does, and ArgumentError where the readings contradict each other.)");
  module.def(
      "parse_reading",
      [](py::handle text) {
        const Measured measured = parse_reading(name_of(text, "text"));
        return record_type("Measured")(measured.value, measured.unit);
      },
      py::arg("text"), R"(The number and the unit of a text such as "43 psi": a Measured. The unit is not looked up.

Raises ArgumentError, with a hint at the decimal point where there is a comma.)");
  module.def(
      "convert",
      [](py::handle value, py::handle from, py::handle to) {
        return convert(number_of(value, "value"), name_of(from, "from_"), name_of(to, "to"));
      },
      py::arg("value"), py::arg("from_"), py::arg("to"),
      R"(A value in other units of its quantity (NIST SP 811). Temperatures are points on a scale: 20 degC are 293.15 K.

Gauge and absolute pressures are never turned into each other. Raises UnknownName; ArgumentError where the quantities
differ.)");
  module.def(
      "convert_difference",
      [](py::handle value, py::handle from, py::handle to) {
        return convert_difference(number_of(value, "value"), name_of(from, "from_"), name_of(to, "to"));
      },
      py::arg("value"), py::arg("from_"), py::arg("to"), "The same for a difference: 20 degC are 20 K.");
  module.def("units", &unit_records, "All units that are known, as Unit records; those of one quantity together.");
}

}  // namespace faultodds::python
