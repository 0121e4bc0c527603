// The leading faults.
// SPDX-License-Identifier: BSD-3-Clause
#include <limits>

#include "faultodds/decision/ranking/rank_tests.hpp"
#include "generated/records.hpp"

namespace faultodds::python {

void bind_decision(py::module_& module) {
  module.def("_leading_faults", [](HeldCase& held, py::handle components, py::handle most) {
    const FaultModel& model = held.current.model();
    const std::size_t count = most.is_none() ? std::numeric_limits<std::size_t>::max() : count_of(most, "most");
    const bool chosen = !components.is_none();
    const auto named = chosen ? variables_of(model, components, "components") : std::vector<VariableIndex>();
    const auto faults = locked(held, [&](const Case& current) {
      return leading_faults(current, chosen ? named : faults_in_question(current), count);
    });
    return table_of(Names(model), faults, "LeadingFaults");
  });
}

}  // namespace faultodds::python
