// Many cases at once.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/batch.hpp"

#include <cstdint>
#include <utility>

#include "bindings.hpp"

namespace faultodds::python {

namespace {

/// Numbers handed to Python without a copy, as an object with a buffer.
struct Numbers {
  std::vector<double> values;
  std::size_t rows;
  std::size_t columns;
};

py::buffer_info buffer_of(Numbers& numbers) {
  const auto columns = static_cast<py::ssize_t>(numbers.columns);
  const auto size = static_cast<py::ssize_t>(sizeof(double));
  return {numbers.values.data(),
          size,
          py::format_descriptor<double>::format(),
          2,
          {static_cast<py::ssize_t>(numbers.rows), columns},
          {columns * size, size}};
}

/// The numbers of a two-dimensional array that lies row by row in memory.
template <typename Number>
std::span<const Number> numbers_of(const py::buffer_info& info, const char* argument) {
  const auto size = static_cast<py::ssize_t>(sizeof(Number));
  const bool row_by_row = info.ndim == 2 && info.strides[1] == size && info.strides[0] == info.shape[1] * size;
  if (!info.item_type_is_equivalent_to<Number>() || !(row_by_row || info.size == 0)) {
    throw py::type_error(std::string(argument) + ": give a two-dimensional array of format \"" +
                         py::format_descriptor<Number>::format() + "\" that lies row by row in memory");
  }
  return {static_cast<const Number*>(info.ptr), static_cast<std::size_t>(info.size)};
}

py::tuple answers(const Solver& solver, py::handle columns, const py::buffer& states, const py::dict& likelihoods,
                  py::handle variables, py::handle threads) {
  const FaultModel& model = solver.model();
  const py::buffer_info info = states.request();
  CaseRows rows;
  rows.states = numbers_of<std::int32_t>(info, "states");
  rows.count = static_cast<std::size_t>(info.shape[0]);
  rows.variables = variables_of(model, columns, "columns");
  std::vector<py::buffer_info> kept;
  for (const auto& [name, weights] : likelihoods) {
    kept.push_back(py::reinterpret_borrow<py::buffer>(weights).request());
    rows.likelihoods.push_back({.variable = model.index_of(name_of(name, "likelihoods")),
                                .weights = numbers_of<double>(kept.back(), "likelihoods")});
  }
  const std::vector<VariableIndex> asked = variables_of(model, variables, "variables");
  const BatchOptions options{.threads = count_of(threads, "threads")};
  CaseAnswers answers;
  {
    const py::gil_scoped_release unlocked;
    answers = answer_cases(solver, rows, asked, options, thread_stop());
  }
  return py::make_tuple(
      Numbers{.values = std::move(answers.log_evidence), .rows = rows.count, .columns = 1},
      Numbers{.values = std::move(answers.probabilities), .rows = rows.count, .columns = answers.begin.back()});
}

}  // namespace

void bind_batch(py::module_& module) {
  py::class_<Numbers>(module, "_Numbers", py::buffer_protocol()).def_buffer(&buffer_of);
  module.def("_answer_cases", &answers);
  module.def("_state_index", [](const FaultModel& model, py::handle variable, py::handle state) {
    return std::size_t{model.state_of(model.index_of(name_of(variable, "variable")), name_of(state, "state"))};
  });
}

}  // namespace faultodds::python
