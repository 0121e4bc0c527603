// FaultModel: reading what a model says.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/io/model_json.hpp"
#include "generated/records.hpp"
#include "whole_objects.hpp"

namespace faultodds::python {

namespace {

py::object variable_record(const FaultModel& model, std::size_t index) {
  return to_python(Names(model).about(index), model.variable(index));
}

py::object all_variables(const FaultModel& model) {
  py::list records;
  for (std::size_t i = 0; i < model.size(); ++i) records.append(variable_record(model, i));
  return as_records(records);
}

// A reference, so that an object that was never made is refused instead of read.
std::size_t size_of(const FaultModel& model) { return model.size(); }

/// The table as rows in the order of FullTable: the last parent runs fastest.
py::object table_rows(const FaultModel& model, std::size_t index) {
  FullTable table;
  {
    const py::gil_scoped_release unlocked;
    table = written_out(model, index);
  }
  const py::object kind = record_type("TableRow");
  const Variable& variable = model.variable(index);
  py::list records;
  for (std::size_t row = 0; row < table.rows.rows(); ++row) {
    std::size_t rest = row;
    std::vector<std::size_t> positions(table.parents.size());
    for (std::size_t i = table.parents.size(); i-- > 0;) {
      positions[i] = rest % model.state_count(table.parents[i]);
      rest /= model.state_count(table.parents[i]);
    }
    py::dict given;
    for (std::size_t i = 0; i < table.parents.size(); ++i) {
      const Variable& parent = model.variable(table.parents[i]);
      given[py::str(parent.name)] = parent.states[positions[i]].name;
    }
    py::dict probabilities;
    for (std::size_t state = 0; state < variable.states.size(); ++state) {
      probabilities[py::str(variable.states[state].name)] = table.rows(row, state);
    }
    records.append(kind(py::arg("given") = given, py::arg("probabilities") = probabilities));
  }
  return as_records(records);
}

FaultModel model_from_json(const std::string& text, bool normalise) {
  const py::gil_scoped_release unlocked;
  return read_model_json(text, {}, RowScaling{normalise});
}

std::string model_to_json(const FaultModel& model) {
  const py::gil_scoped_release unlocked;
  return write_model_json(model);
}

// A pickled model is (version, JSON text compressed with zlib): small, readable, and checked like any file.
constexpr int pickle_version = 1;

py::tuple reduced(const FaultModel& model) {
  const py::bytes packed = py::module_::import("zlib").attr("compress")(py::bytes(model_to_json(model)));
  const py::object restore = py::module_::import("faultodds._core").attr("_restored_model");
  return py::make_tuple(restore, py::make_tuple(pickle_version, packed));
}

FaultModel restored(const py::object& version, const py::object& packed) {
  const auto refuse = [](const std::string& found) {
    throw ModelError({{"pickled fault model", found, "write it again with this version, or use a model file"}});
  };
  if (!version.equal(py::int_(pickle_version))) refuse("its version is " + std::string(py::str(version)) + ", not 1");
  if (!py::isinstance<py::bytes>(packed)) refuse("it holds no bytes");
  std::string text;
  try {
    text = py::module_::import("zlib").attr("decompress")(packed).cast<std::string>();
  } catch (const py::error_already_set& error) {
    if (!error.matches(py::module_::import("zlib").attr("error"))) throw;
    refuse("its bytes are damaged (" + std::string(py::str(error.value())) + ")");
  }
  return model_from_json(text, false);
}

}  // namespace

void bind_model(py::module_& module) {
  py::class_<FaultModel> bound(module, "FaultModel", py::is_final(),
                               R"(Everything that is said about a kind of vehicle: validated once, immutable afterwards.

Made by FaultModel.from_dict, FaultModel.from_json, read_model or ModelBuilder. Copies share their contents. Models are
compared by content; they have no hash, because two equal models need not be the same object.)");
  bound
      .def_static("from_json", &model_from_json, py::arg("text"), py::kw_only(), py::arg("normalise") = false,
                  R"(A model from JSON text in the format of model files.

normalise: scale rows of any positive sum instead of refusing those that miss one. Raises ModelError listing every
problem with its place.)")
      .def_static(
          "from_dict",
          [](const py::object& members, bool normalise) {
            const py::object text = py::module_::import("faultodds.builder").attr("json_text")(members);
            return model_from_json(text.cast<std::string>(), normalise);
          },
          py::arg("members"), py::kw_only(), py::arg("normalise") = false,
          R"(A model from the members of a model file as a dictionary; numbers may be numpy's. Raises as from_json does.)")
      .def("to_json", &model_to_json, "The model as JSON text in the format of model files. Numbers survive exactly.")
      .def(
          "to_dict",
          [](const FaultModel& model) { return py::module_::import("json").attr("loads")(model_to_json(model)); },
          "The members of its model file as a dictionary of the caller's own: change it, and make another model of it.")
      .def("size", &size_of, "Number of variables.")
      .def("__len__", &size_of)
      .def("__contains__",
           [](const FaultModel& model, py::handle name) { return model.find(name_of(name, "variable")).has_value(); })
      .def("__iter__",
           [](const FaultModel& model) {
             py::list names;
             for (const Variable& variable : model.variables()) names.append(variable.name);
             return py::iter(names);
           })
      .def("__getitem__",
           [](const FaultModel& model, py::handle name) {
             return variable_record(model, model.index_of(name_of(name, "variable")));
           })
      .def(
          "__eq__", [](const FaultModel& model, const FaultModel& other) { return model == other; }, py::is_operator())
      .def("__copy__", [](const py::object& self) { return self; })
      .def(
          "__deepcopy__", [](const py::object& self, const py::object&) { return self; }, py::arg("memo"))
      .def("__repr__",
           [](const FaultModel& model) {
             return "<FaultModel " + std::string(py::str(py::repr(py::str(model.header().name)))) + ", " +
                    std::to_string(model.size()) + " variables>";
           })
      .def(
          "header", [](const FaultModel& model) { return to_python(Names(model), model.header()); },
          "Facts about the model as a whole, as a Header.")
      .def("variables", &all_variables, "All variables in the model's order, as records of kind Variable.")
      .def(
          "variable",
          [](const FaultModel& model, py::handle name) {
            return variable_record(model, model.index_of(name_of(name, "variable")));
          },
          py::arg("name"), "What the model says about a variable. Raises UnknownName with the nearest names.")
      .def(
          "states",
          [](const FaultModel& model, py::handle name) {
            std::vector<std::string> names;
            for (const State& state : model.variable(model.index_of(name_of(name, "variable"))).states) {
              names.push_back(state.name);
            }
            return as_tuple(names);
          },
          py::arg("name"), "Names of a variable's states, in their order. Raises UnknownName.")
      .def(
          "role",
          [](const FaultModel& model, py::handle name) {
            return to_python(Names(model), model.variable(model.index_of(name_of(name, "variable"))).role());
          },
          py::arg("name"), "What the variable stands for, such as \"component\". Raises UnknownName.")
      .def(
          "parents",
          [](const FaultModel& model, py::handle name) {
            return names_as_tuple(model, model.parents(model.index_of(name_of(name, "variable"))));
          },
          py::arg("name"), "Names of the variables it depends on, each once. Raises UnknownName.")
      .def(
          "children",
          [](const FaultModel& model, py::handle name) {
            return names_as_tuple(model, model.children(model.index_of(name_of(name, "variable"))));
          },
          py::arg("name"), "Names of the variables that depend on it. Raises UnknownName.")
      .def(
          "topological_order", [](const FaultModel& model) { return names_as_tuple(model, model.topological_order()); },
          "Names of all variables, parents before children; among equals the model's order.")
      .def(
          "with_role",
          [](const FaultModel& model, py::handle role) {
            return names_as_tuple(model, model.with_role(taken<Role>(Names(model), role, "role")));
          },
          py::arg("role"), "Names of the variables of a role, in the model's order. Raises ArgumentError.")
      .def(
          "scaled_rows", [](const FaultModel& model) { return table_of(Names(model), model.scaled_rows()); },
          "Rows of tables that missed one by rounding and were scaled.")
      .def(
          "written_out",
          [](const FaultModel& model, py::handle name) {
            return table_rows(model, model.index_of(name_of(name, "variable")));
          },
          py::arg("name"), R"(The conditional table of a variable, written out in full.

Returns records of kind TableRow, one for each configuration of the parents, the last parent running fastest. Raises
UnknownName; TooLarge if the table would hold more than four million numbers.)")
      .def("__reduce__", &reduced);
  add_work(bound);
  refuse_hollow_objects(bound, "use FaultModel.from_dict, FaultModel.from_json, read_model or ModelBuilder");
  module.def("_restored_model", &restored);
}

}  // namespace faultodds::python
