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
      findings[i] = kind(py::arg("variable") = clash[i].name, py::arg("state") = clash[i].state);
      continue;
    }
    py::dict weights;
    for (const auto& [state, weight] : clash[i].weights) weights[py::str(state)] = weight;
    findings[i] = kind(py::arg("variable") = clash[i].name, py::arg("weights") = weights);
  }
  return findings;
}

py::tuple problems_as_tuple(const std::vector<Problem>& problems) {
  const py::object kind = py::module_::import("faultodds.errors").attr("Problem");
  py::tuple items(problems.size());
  for (std::size_t i = 0; i < problems.size(); ++i) {
    items[i] = kind(py::arg("place") = problems[i].place, py::arg("found") = problems[i].found,
                    py::arg("remedy") = problems[i].remedy);
  }
  return items;
}

void translate(std::exception_ptr thrown) {
  try {
    if (thrown) std::rethrow_exception(thrown);
  } catch (const ModelError& error) {
    raise("ModelError", error, py::arg("problems") = problems_as_tuple(error.problems()),
          py::arg("file") = error.file());
  } catch (const UnknownName& error) {
    raise("UnknownName", error, py::arg("kind") = error.kind(), py::arg("name") = error.name(),
          py::arg("owner") = error.owner(), py::arg("nearest") = as_tuple(error.nearest()));
  } catch (const ArgumentError& error) {
    raise("ArgumentError", error, py::arg("argument") = error.argument(), py::arg("found") = error.found(),
          py::arg("remedy") = error.remedy());
  } catch (const ImpossibleFindings& error) {
    raise("ImpossibleFindings", error, py::arg("clash") = as_tuple(error.clash()),
          py::arg("findings") = clash_as_findings(error.findings()));
  } catch (const TooLarge& error) {
    raise("TooLarge", error, py::arg("needed_bytes") = error.bytes(), py::arg("limit_bytes") = error.limit_bytes(),
          py::arg("what_for") = error.what_for(), py::arg("remedy") = error.remedy());
  } catch (const Stopped& error) {
    raise("Stopped", error);
  } catch (const Error& error) {
    raise("Error", error);
  }
}

}  // namespace

void bind_errors() { py::register_local_exception_translator(&translate); }

}  // namespace faultodds::python
