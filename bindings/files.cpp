// Model files and lint.
// SPDX-License-Identifier: BSD-3-Clause
#include "bindings.hpp"
#include "faultodds/io/model_file.hpp"
#include "faultodds/model/lint.hpp"

namespace faultodds::python {

namespace {

/// Raises the built-in OSError if the file is not there, so that Python programs find what they expect.
FaultModel model_from_file(const py::object& path, bool normalise) {
  const py::module_ os = py::module_::import("os");
  const std::string name = os.attr("fsdecode")(os.attr("fspath")(path)).cast<std::string>();
  os.attr("stat")(path);
  const py::gil_scoped_release unlocked;
  return read_model(name, RowScaling{normalise});
}

py::tuple model_to_file(const FaultModel& model, const py::object& path) {
  const py::module_ os = py::module_::import("os");
  const std::string name = os.attr("fsdecode")(os.attr("fspath")(path)).cast<std::string>();
  std::vector<std::string> lost;
  {
    const py::gil_scoped_release unlocked;
    lost = write_model(model, name);
  }
  return as_tuple(lost);
}

}  // namespace

void bind_files(py::module_& module) {
  module.def("read_model", &model_from_file, py::arg("path"), py::kw_only(), py::arg("normalise") = false,
             R"(Reads a fault model or a plain network; the file's ending says which format.

.json, .bif, .xml or .xmlbif, .uai, each also with .gz behind it. normalise: scale rows of any positive sum instead of
refusing those that miss one. Raises ModelError listing every problem with its place, and OSError if the file cannot
be opened; ArgumentError for other endings.)");
  module.def("write_model", &model_to_file, py::arg("model"), py::arg("path"),
             R"(Writes a model; the file's ending says the format (those of read_model, and .dot for a picture).

Returns what the format cannot hold of it, a sentence each; nothing for .json. For .uai the names go into a file
beside it. Raises ModelError if the file cannot be written or the format cannot hold the model at all; TooLarge;
ArgumentError for other endings.)");
  module.def(
      "lint",
      [](const FaultModel& model) {
        std::vector<Remark> remarks;
        {
          const py::gil_scoped_release unlocked;
          remarks = lint(model);
        }
        const py::object kind = record_type("Remark");
        py::list records;
        for (const Remark& remark : remarks) {
          records.append(kind(remark.severity == Severity::warning ? "warning" : "note", remark.place, remark.found,
                              remark.remedy));
        }
        return as_records(records);
      },
      py::arg("model"), "What is doubtful in a model that is valid: records of kind Remark.");
}

}  // namespace faultodds::python
