// What the parts of the Python module share: registration, arguments, and one case's lock.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/inference/case.hpp"
#include "faultodds/model/fault_model.hpp"
#include "faultodds/model/stop.hpp"

namespace faultodds::python {

namespace py = pybind11;

/// A case as Python holds it. Const members of a case fill in results on demand, and the interpreter lock is released
/// while they do, so that each case carries a lock of its own.
struct HeldCase {
  explicit HeldCase(Case made) : current(std::move(made)) {}

  Case current;
  std::mutex mutex;
};

/// What stops the work of this thread: Ctrl-C (KeyboardInterrupt, or what else a signal handler raises), and the blocks
/// it is in (time_limit, stopping).
Stop thread_stop();

/// Runs `work` on the case without the interpreter lock, alone on this case. `work` must not touch Python objects.
template <class Work>
auto locked(HeldCase& held, Work&& work) {
  const py::gil_scoped_release unlocked;
  const std::lock_guard guard(held.mutex);
  const StopScope scope(held.current, thread_stop());
  return std::forward<Work>(work)(held.current);
}

/// Runs `work` without the interpreter lock. `work` must not touch Python objects.
template <class Work>
auto unlocked(Work&& work) {
  const py::gil_scoped_release released;
  return std::forward<Work>(work)();
}

/// A name given as text. Throws TypeError for anything else: a number is never taken as a name or a position. Text that
/// is no Unicode (lone surrogates) raises UnicodeEncodeError, a ValueError.
std::string name_of(py::handle value, const char* argument);
/// Names given as an iterable of text; a lone text is refused, for it would be read letter by letter.
std::vector<std::string> names_of(py::handle value, const char* argument);
/// Indices of variables given by their names.
std::vector<VariableIndex> variables_of(const FaultModel& model, py::handle names, const char* argument);
/// A count: a whole number that is not negative (ArgumentError), and no truth value (TypeError).
std::size_t count_of(py::handle value, const char* argument);
/// A finite or infinite number, but no truth value and no text.
double number_of(py::handle value, const char* argument);
/// True or False, and nothing else that Python takes for such (TypeError).
bool truth_of(py::handle value, const char* argument);
/// Weights for the states of a variable: a sequence in the order of the states, or a mapping that names every state.
std::vector<double> weights_of(const FaultModel& model, std::size_t variable, py::handle weights);
/// Throws TypeError if `value` is no record of this kind.
void require_kind(py::handle value, const char* kind, const char* argument);
/// A finding made of a record `faultodds.Finding`.
Finding finding_of(const FaultModel& model, py::handle record);

/// A record `faultodds.Finding` made of a finding.
py::object finding_record(const FaultModel& model, const Finding& finding);

/// A class of the module faultodds.records.
py::object record_type(const char* name);
/// A `faultodds.records.Records` (or a subclass of it) holding `records`.
py::object as_records(const py::list& records, const char* type = "Records");
py::tuple as_tuple(const std::vector<std::string>& texts);
/// The names of variables.
py::tuple names_as_tuple(const FaultModel& model, const std::vector<VariableIndex>& variables);
/// What the model says about work beside its variables.
void add_work(py::class_<FaultModel>& bound);

/// Functions whose binding follows from their declaration (generated/calls.cpp).
void bind_calls(py::module_& module);
void bind_batch(py::module_& module);
void bind_stop(py::module_& module);
void bind_errors();
void bind_model(py::module_& module);
void bind_case(py::module_& module);
void bind_job(py::module_& module);
void bind_decision(py::module_& module);
void bind_explanations(py::module_& module);
void bind_files(py::module_& module);
void bind_reading(py::module_& module);

/// Posteriors of all variables, by index, as records of kind Posteriors.
py::object posteriors_of_all(const FaultModel& model, const std::vector<std::vector<double>>& of_variable);

}  // namespace faultodds::python
