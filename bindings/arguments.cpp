// Arguments from Python, and records to Python.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <optional>

#include "bindings.hpp"

namespace faultodds::python {

namespace {

std::string type_name(py::handle value) { return py::str(py::type::handle_of(value).attr("__qualname__")); }

std::string shown_value(py::handle value) {
  std::string text = py::str(py::repr(value));
  constexpr std::size_t longest = 60;
  if (text.size() > longest) text = py::str(py::str(text)[py::slice(0, longest, 1)]).cast<std::string>() + "...";
  return type_name(value) + " " + text;
}

}  // namespace

std::string name_of(py::handle value, const char* argument) {
  if (!py::isinstance<py::str>(value)) {
    throw py::type_error(std::string(argument) + ": got " + shown_value(value) +
                         "; give a name as text (str): a number is never taken as a name or as a position");
  }
  Py_ssize_t size = 0;
  const char* const text = PyUnicode_AsUTF8AndSize(value.ptr(), &size);
  if (text == nullptr) throw py::error_already_set();
  return {text, static_cast<std::size_t>(size)};
}

std::vector<std::string> names_of(py::handle value, const char* argument) {
  if (py::isinstance<py::str>(value)) {
    throw py::type_error(std::string(argument) + ": got " + shown_value(value) + "; give a list of names, [" +
                         std::string(py::str(py::repr(value))) + "]");
  }
  if (!py::hasattr(value, "__iter__")) {
    throw py::type_error(std::string(argument) + ": got " + shown_value(value) + "; give a list of names");
  }
  std::vector<std::string> names;
  for (const py::handle item : value) names.push_back(name_of(item, argument));
  return names;
}

std::vector<VariableIndex> variables_of(const FaultModel& model, py::handle names, const char* argument) {
  std::vector<VariableIndex> variables;
  for (const std::string& name : names_of(names, argument)) variables.push_back(model.index_of(name));
  return variables;
}

std::size_t count_of(py::handle value, const char* argument) {
  if (py::isinstance<py::bool_>(value) || PyIndex_Check(value.ptr()) == 0) {
    throw py::type_error(std::string(argument) + ": got " + shown_value(value) + "; give a whole number");
  }
  const auto number = py::reinterpret_steal<py::object>(PyNumber_Index(value.ptr()));
  if (!number) throw py::error_already_set();
  const std::size_t count = PyLong_AsSize_t(number.ptr());
  if (PyErr_Occurred() != nullptr) {
    PyErr_Clear();
    throw ArgumentError(argument, "got " + shown_value(value), "give a whole number from 0 up",
                        ErrorCode::wrong_number);
  }
  return count;
}

bool truth_of(py::handle value, const char* argument) {
  const bool of_numpy = type_name(value) == "bool" || type_name(value) == "bool_";
  if (!of_numpy) throw py::type_error(std::string(argument) + ": got " + shown_value(value) + "; give True or False");
  return value.cast<bool>();
}

double number_of(py::handle value, const char* argument) {
  const bool wrong_kind = py::isinstance<py::bool_>(value) || py::isinstance<py::str>(value) ||
                          !(py::hasattr(value, "__float__") || py::hasattr(value, "__index__"));
  if (wrong_kind) throw py::type_error(std::string(argument) + ": got " + shown_value(value) + "; give a number");
  const double number = PyFloat_AsDouble(value.ptr());
  if (PyErr_Occurred() != nullptr) throw py::error_already_set();
  return number;
}

std::vector<double> weights_of(const FaultModel& model, std::size_t variable, py::handle weights) {
  const Variable& about = model.variable(variable);
  if (!py::isinstance(weights, py::module_::import("collections.abc").attr("Mapping"))) {
    if (py::isinstance<py::str>(weights) || !py::hasattr(weights, "__iter__")) {
      throw py::type_error("weights: got " + shown_value(weights) +
                           "; give a number for each state, or {state: number}");
    }
    std::vector<double> numbers;
    for (const py::handle item : weights) numbers.push_back(number_of(item, "weights"));
    return numbers;
  }
  std::vector<std::optional<double>> given(about.states.size());
  for (const py::handle key : weights.attr("keys")()) {
    const std::size_t state = model.state_of(variable, name_of(key, "weights"));
    given[state] = number_of(weights[key], "weights");
  }
  std::vector<double> numbers;
  for (std::size_t state = 0; state < given.size(); ++state) {
    if (!given[state]) {
      throw ArgumentError("weights",
                          "no weight for state \"" + about.states[state].name + "\" of \"" + about.name + '"',
                          "give a weight for every state, 0 if it is ruled out", ErrorCode::wrong_size);
    }
    numbers.push_back(*given[state]);
  }
  return numbers;
}

void require_kind(py::handle value, const char* kind, const char* argument) {
  if (py::isinstance(value, record_type(kind))) return;
  throw py::type_error(std::string(argument) + ": got " + shown_value(value) + "; give a faultodds." + kind);
}

Finding finding_of(const FaultModel& model, py::handle record) {
  require_kind(record, "Finding", "finding");
  Finding finding;
  finding.variable = model.index_of(name_of(record.attr("variable"), "variable"));
  const py::object state = record.attr("state");
  if (state.is_none()) {
    finding.weights = weights_of(model, finding.variable, record.attr("weights"));
  } else {
    finding.state = model.state_of(finding.variable, name_of(state, "state"));
    finding.weights.assign(model.state_count(finding.variable), 0.0);
    finding.weights[*finding.state] = 1.0;
  }
  return finding;
}

py::object finding_record(const FaultModel& model, const Finding& finding) {
  const Variable& variable = model.variable(finding.variable);
  if (finding.state)
    return record_type("Finding")(py::arg("variable") = variable.name,
                                  py::arg("state") = variable.states[*finding.state].name);
  py::dict weights;
  for (std::size_t state = 0; state < finding.weights.size(); ++state) {
    weights[py::str(variable.states[state].name)] = finding.weights[state];
  }
  return record_type("Finding")(py::arg("variable") = variable.name, py::arg("weights") = weights);
}

py::object record_type(const char* name) { return py::module_::import("faultodds.records").attr(name); }

py::object as_records(const py::list& records, const char* type) { return record_type(type)(records); }

py::tuple as_tuple(const std::vector<std::string>& texts) {
  py::tuple items(texts.size());
  for (std::size_t i = 0; i < texts.size(); ++i) items[i] = py::str(texts[i]);
  return items;
}

py::tuple names_as_tuple(const FaultModel& model, const std::vector<VariableIndex>& variables) {
  std::vector<std::string> names;
  names.reserve(variables.size());
  for (const std::size_t variable : variables) names.push_back(model.variable(variable).name);
  return as_tuple(names);
}

}  // namespace faultodds::python
