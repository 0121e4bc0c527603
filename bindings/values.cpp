// Values to Python and from it.
// SPDX-License-Identifier: BSD-3-Clause
#include "generated/records.hpp"

namespace faultodds::python {

py::object to_python(const Names& in, const std::vector<Gate>& gates) {
  py::dict states;
  for (const Gate& gate : gates) {
    states[variable_name(in, gate.variable)] = state_name(in, gate.variable, gate.states);
  }
  return states;
}

py::object option(const py::dict& given, const char* name) {
  if (!given.contains(name) || given[name].is_none()) return {};
  return given[name];
}

}  // namespace faultodds::python
