// Model files and lint.
// SPDX-License-Identifier: BSD-3-Clause
#include "bindings.hpp"
#include "faultodds/io/model_file.hpp"

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
  module.def("_read_model", &model_from_file);
  module.def("_write_model", &model_to_file);
}

}  // namespace faultodds::python
