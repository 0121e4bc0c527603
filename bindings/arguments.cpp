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

void require_record(py::handle value, const char* type, const char* argument) {
  if (py::isinstance(value, record_type(type))) return;
  throw py::type_error(std::string(argument) + ": got " + shown_value(value) + "; give a faultodds." + type);
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

std::vector<std::size_t> variables_of(const FaultModel& model, py::handle names, const char* argument) {
  std::vector<std::size_t> variables;
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

std::optional<double> number_or_nothing(py::handle value, const char* argument) {
  return value.is_none() ? std::nullopt : std::optional(number_of(value, argument));
}

Means means_of(py::handle record) {
  if (record.is_none()) return {};
  require_record(record, "Means", "means");
  Means means;
  const py::object tools = record.attr("tools");
  const py::object skill = record.attr("skill");
  const py::object stated_after = record.attr("stated_after");
  if (!tools.is_none()) means.tools = names_of(tools, "means.tools");
  if (!skill.is_none()) means.skill = name_of(skill, "means.skill");
  means.open_access = names_of(record.attr("open_access"), "means.open_access");
  means.closed_access = names_of(record.attr("closed_access"), "means.closed_access");
  means.conditions = names_of(record.attr("conditions"), "means.conditions");
  if (!stated_after.is_none()) means.stated_after = count_of(stated_after, "means.stated_after");
  means.max_cost = number_or_nothing(record.attr("max_cost"), "means.max_cost");
  means.max_minutes = number_or_nothing(record.attr("max_minutes"), "means.max_minutes");
  means.labour_rate = number_or_nothing(record.attr("labour_rate"), "means.labour_rate");
  return means;
}

EndCosts end_costs_of(py::handle record) {
  if (record.is_none()) return {};
  require_record(record, "EndCosts", "ends");
  return {.hand_over = number_or_nothing(record.attr("hand_over"), "ends.hand_over"),
          .live_with = number_or_nothing(record.attr("live_with"), "ends.live_with"),
          .comeback = number_or_nothing(record.attr("comeback"), "ends.comeback")};
}

Finding finding_of(const FaultModel& model, py::handle record) {
  require_record(record, "Finding", "finding");
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
  if (finding.state) return record_type("Finding")(variable.name, variable.states[*finding.state].name);
  py::dict weights;
  for (std::size_t state = 0; state < finding.weights.size(); ++state) {
    weights[py::str(variable.states[state].name)] = finding.weights[state];
  }
  return record_type("Finding")(variable.name, py::none(), weights);
}

py::object record_type(const char* name) { return py::module_::import("faultodds.records").attr(name); }

py::object as_records(const py::list& records, const char* type) { return record_type(type)(records); }

py::tuple as_tuple(const std::vector<std::string>& texts) {
  py::tuple items(texts.size());
  for (std::size_t i = 0; i < texts.size(); ++i) items[i] = py::str(texts[i]);
  return items;
}

py::object or_none(const std::optional<double>& number) {
  return number ? py::object(py::float_(*number)) : py::object(py::none());
}

py::tuple names_as_tuple(const FaultModel& model, const std::vector<std::size_t>& variables) {
  std::vector<std::string> names;
  names.reserve(variables.size());
  for (const std::size_t variable : variables) names.push_back(model.variable(variable).name);
  return as_tuple(names);
}

const char* role_text(Role role) {
  switch (role) {
    case Role::unclassified:
      return "unclassified";
    case Role::context:
      return "context";
    case Role::component:
      return "component";
    case Role::hidden:
      return "hidden";
    case Role::symptom:
      return "symptom";
    case Role::test:
      return "test";
  }
  return "unclassified";
}

}  // namespace faultodds::python
