// The family of exceptions as Python exceptions of the same names, with the same facts as attributes.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/model/errors.hpp"

#include <exception>

#include "bindings.hpp"

namespace faultodds::python {

namespace {

template <class... Facts>
void raise(const char* type, const Error& error, Facts&&... facts) {
  const py::object kind = py::module_::import("faultodds.errors").attr(type);
  const py::object made = kind(py::str(error.what()), std::forward<Facts>(facts)...);
  made.attr("code") = py::str(std::string(name_of(error.code())));
  PyErr_SetObject(kind.ptr(), made.ptr());
}

py::tuple clash_as_findings(const std::vector<ClashingFinding>& clash) {
  const py::object kind = record_type("Finding");
  py::tuple findings(clash.size());
  for (std::size_t i = 0; i < clash.size(); ++i) {
    if (!clash[i].state.empty()) {
      findings[i] = kind(clash[i].name, clash[i].state);
      continue;
    }
    py::dict weights;
    for (const auto& [state, weight] : clash[i].weights) weights[py::str(state)] = weight;
    findings[i] = kind(clash[i].name, py::none(), weights);
  }
  return findings;
}

py::tuple problems_as_tuple(const std::vector<Problem>& problems) {
  const py::object kind = py::module_::import("faultodds.errors").attr("Problem");
  py::tuple items(problems.size());
  for (std::size_t i = 0; i < problems.size(); ++i) {
    items[i] = kind(problems[i].place, problems[i].found, problems[i].remedy);
  }
  return items;
}

void translate(std::exception_ptr thrown) {
  try {
    if (thrown) std::rethrow_exception(thrown);
  } catch (const ModelError& error) {
    raise("ModelError", error, problems_as_tuple(error.problems()), error.file());
  } catch (const UnknownName& error) {
    raise("UnknownName", error, error.kind(), error.name(), error.owner(), as_tuple(error.nearest()));
  } catch (const ArgumentError& error) {
    raise("ArgumentError", error, error.argument(), error.found(), error.remedy());
  } catch (const ImpossibleFindings& error) {
    raise("ImpossibleFindings", error, as_tuple(error.clash()), clash_as_findings(error.findings()));
  } catch (const TooLarge& error) {
    raise("TooLarge", error, error.bytes(), error.limit_bytes(), error.what_for(), error.remedy());
  } catch (const Stopped& error) {
    raise("Stopped", error);
  } catch (const Error& error) {
    raise("Error", error);
  }
}

}  // namespace

void bind_errors() { py::register_local_exception_translator(&translate); }

}  // namespace faultodds::python
